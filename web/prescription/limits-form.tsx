/** The limits the prescription keeps, each open to the user; what each of them did stands below. */
import { useState } from "preact/hooks";
import type { PrescriptionSettings } from "../../src/prescription/prescription.ts";
import { shownValue, unitLabel } from "../../src/quantities/format.ts";
import { convert } from "../../src/quantities/units.ts";
import type { PrescriptionView } from "../../src/report/prescription-view.ts";
import { choices } from "../model/prescription-choices.ts";
import * as state from "../model/prescription-state.ts";
import * as page from "../model/state.ts";
import { numberLocale, readTyped, toType } from "../words/numbers.ts";
import { texts } from "../words/texts/texts.ts";
import { SystemChoice } from "./choice-of-ground.tsx";
import { FieldRefusal } from "./field-refusal.tsx";

type Kind = "force" | "area" | "plain";

/** Decimals shown at most. */
const DECIMALS: Readonly<Record<Kind, number>> = { force: 0, area: 2, plain: 1 };

interface Limit {
  key: keyof PrescriptionSettings;
  title: string;
  kind: Kind;
  /** Unit of a plain figure. */
  unit?: string;
  /** May be left empty. */
  optional?: string;
}

const FIELDS: readonly Limit[] = [
  { key: "minimumMarginN", title: "Smallest load", kind: "force" },
  { key: "maximumMarginN", title: "Largest load", kind: "force" },
  { key: "largestStepN", title: "Largest step from today", kind: "force" },
  { key: "rateStepN", title: "Whole steps of", kind: "force" },
  { key: "lagS", title: "Lag of the system", kind: "plain", unit: "s" },
  { key: "smallestAreaHa", title: "Smallest zone", kind: "area" },
  { key: "smallestWidthBars", title: "Narrowest zone", kind: "plain", unit: "bar widths" },
  { key: "mostRates", title: "Different loads at most", kind: "plain", unit: "" },
  { key: "outsideMarginN", title: "Outside the boundary", kind: "force", optional: "today's mean" },
  { key: "lostPositionMarginN", title: "On lost position", kind: "force", optional: "today's mean" },
];

export function LimitsForm({ view }: { view: PrescriptionView }) {
  const { settings } = view;
  return (
    <details class="limits" open={isLimitWrong() || undefined}>
      <summary>{texts.value.prescription.limits}</summary>
      <div class="limit-fields">
        {FIELDS.map((field) => (
          <LimitField
            key={field.key}
            field={field}
            value={{ ...settings, ...choices.value.settings }[field.key] as number | null}
          />
        ))}
        <SystemChoice system={settings.system} />
      </div>
      <label class="strips">
        <input
          type="checkbox"
          checked={settings.proofStrips}
          onChange={(event) => state.change("Proof strips", { proofStrips: event.currentTarget.checked })}
        />
        <span>{texts.value.prescription.proof}</span>
      </label>
      <BarWeight view={view} />
    </details>
  );
}

/** True where the refusal is of a limit in this form, which then stands open. */
function isLimitWrong(): boolean {
  const field = state.trouble.value?.field;
  return field === "prescription.usableWeight" || FIELDS.some(({ key }) => field === `prescription.${key}`);
}

function LimitField({ field, value }: { field: Limit; value: number | null }) {
  const system = page.unitSystem.value;
  const { key, title, kind, optional } = field;
  const unit = kind === "plain" ? (field.unit ?? "") : unitLabel(kind, system);
  const locale = numberLocale.value;
  const shown = value === null ? "" : toType(Number(shownOf(value, kind).toFixed(DECIMALS[kind])), locale);
  const set = (text: string) => {
    if (text.trim() === "") {
      if (optional) state.change(title, { [key]: null });
      return;
    }
    const typed = readTyped(text, locale);
    if (Number.isFinite(typed)) state.change(title, { [key]: insideOf(typed, kind) });
  };
  return (
    <label>
      <span>
        {title}
        {unit && <span class="small">, {unit}</span>}
      </span>
      <input
        type="text"
        inputMode="decimal"
        value={shown}
        placeholder={optional ?? ""}
        onChange={(event) => {
          set(event.currentTarget.value);
          // What is no number does not stay in the box as if it held.
          if (Number.isNaN(readTyped(event.currentTarget.value, locale))) event.currentTarget.value = shown;
        }}
      />
      <FieldRefusal of={key} />
    </label>
  );

  function shownOf(inside: number, of: Kind): number {
    return of === "plain" ? inside : shownValue(inside, of, system);
  }

  function insideOf(typed: number, of: Kind): number {
    if (of === "plain" || system === "metric") return typed;
    return of === "force" ? convert(typed, "lbf", "N") : convert(typed, "ac", "ha");
  }
}

/** What the bar can spare before added force lifts it; without it the lift is not checked. */
function BarWeight({ view }: { view: PrescriptionView }) {
  const system = page.unitSystem.value;
  const weight = view.settings.usableWeight;
  const [wrong, setWrong] = useState<string | null>(null);
  const unit = unitLabel("force", system);
  const inside = (typed: number) => (system === "farm" ? convert(typed, "lbf", "N") : typed);
  const shown = (newtons: number | undefined) =>
    newtons === undefined ? "" : String(Math.round(shownValue(newtons, "force", system)));
  const parts = [
    ["centre", `Centre can spare, ${unit}`, shown(weight?.centreN)],
    ["wing", `One wing can spare, ${unit}`, shown(weight?.wingN)],
    ["centreRows", "Row units on the centre", String(weight?.centreRowUnits ?? "")],
    ["wingRows", "Row units on one wing", String(weight?.wingRowUnits ?? "")],
  ] as const;
  return (
    <form
      // Taken back, the boxes are empty again.
      key={weight === null ? "none" : "given"}
      class="limit-fields"
      onSubmit={(event) => event.preventDefault()}
      onChange={(event) => {
        const form = new FormData(event.currentTarget);
        const [centre, wing, centreRows, wingRows] = parts.map(([name]) =>
          String(form.get(name) ?? "").trim(),
        );
        const figures = [centre, wing, centreRows, wingRows].map((text) =>
          readTyped(text!, numberLocale.value),
        );
        const typed = [centre, wing, centreRows, wingRows];
        const at = typed.findIndex((text, k) => text !== "" && !(figures[k]! >= 0));
        setWrong(
          at < 0 ? null : `${parts[at]![1]}: "${typed[at]}" cannot be; it has to be a number of 0 or more.`,
        );
        if (!figures.every((figure) => figure >= 0)) return;
        state.change("Weight of the bar", {
          usableWeight: {
            centreN: inside(figures[0]!),
            wingN: inside(figures[1]!),
            centreRowUnits: figures[2]!,
            wingRowUnits: figures[3]!,
          },
        });
      }}
    >
      <p class="small">
        Weight the bar can spare with seed and fertiliser at their least; all four, or the lift is not
        checked.
      </p>
      {parts.map(([name, title, value]) => (
        <label key={name}>
          <span>{title}</span>
          <input name={name} type="text" inputMode="decimal" defaultValue={value} />
        </label>
      ))}
      {wrong && (
        <p class="refusal" role="alert">
          {wrong}
        </p>
      )}
      <FieldRefusal of="usableWeight" />
    </form>
  );
}

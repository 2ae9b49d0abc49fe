/** Keep or replant, with the user's own date and costs; what has to be done before any stand is destroyed comes first. */
import { GAP_DEDUCTION, type Gaps, type KeepOrReplant } from "../../src/cost/replant.ts";
import { isEvenstandError } from "../../src/errors.ts";
import type { FindingsDocument } from "../../src/findings/findings-document.ts";
import type { ReplantBasis } from "../../src/findings/replant-basis.ts";
import type { UnitSystem } from "../../src/quantities/format.ts";
import { ACRES_PER_HECTARE } from "../../src/quantities/units.ts";
import {
  DAYS_TO_REPLANT,
  REPLANT_CAUTIONS,
  type ReplantPlace,
  type ReplantPlan,
  weighReplanting,
} from "../../src/replant/replant-plan.ts";
import { VERDICT_WORDS } from "../../src/replant/replant-text.ts";
import { dayNumber, isoDateOf } from "../../src/stand/calendar.ts";
import { formatPercent, formatQuantity, groupThousands, plural } from "../words/format.ts";
import { texts } from "../words/texts/texts.ts";
import { figureText, moneyIn, writeFigure } from "./figures.ts";

const COSTS = ["destroy", "plant", "seed", "other", "insurance"] as const;

interface Props {
  document: FindingsDocument;
  system: UnitSystem;
}

export function KeepOrReplantPart({ document, system }: Props) {
  const basis = document.summary.replant;
  if (!basis?.standPerHa) return null;
  return (
    <section class="replant" aria-labelledby="replant-title">
      <h3 id="replant-title">{texts.value.money.keepOr}</h3>
      <div class="caution">
        <p>
          <strong>{texts.value.money.beforeDestroyed}</strong>
        </p>
        <ul class="plain-list">
          {REPLANT_CAUTIONS.map((caution) => (
            <li key={caution}>{caution}</li>
          ))}
        </ul>
      </div>
      <Sums basis={basis} document={document} system={system} />
    </section>
  );
}

function Sums({ basis, document, system }: Props & { basis: ReplantBasis }) {
  const { name } = basis;
  const money = (key: string) => moneyIn(figureText(name, `replant-${key}`, null));
  const perAcre = (value: number | null) =>
    value === null ? null : system === "farm" ? value : value / ACRES_PER_HECTARE;
  const date = figureText(name, "replant-on", usualDate(basis));
  const gapsText = figureText(name, "replant-gaps", "unknown");
  const gaps = (Object.keys(GAP_DEDUCTION.corn) as Gaps[]).find((one) => one === gapsText) ?? "unknown";
  const plan = planOf(basis, document, {
    date,
    gaps,
    costs: {
      destroy: perAcre(money("destroy")),
      plant: perAcre(money("plant")),
      seed: perAcre(money("seed")),
      other: perAcre(money("other")),
      insurance: perAcre(money("insurance")),
    },
  });
  return (
    <>
      <fieldset class="replant-figures">
        <legend class="small">
          {texts.value.money.yourFigures(basis.prices.currency, system === "farm")}
        </legend>
        <label>
          {texts.value.money.replantOn}
          <input
            type="date"
            class="figure"
            value={date}
            onInput={(event) => writeFigure(name, "replant-on", event.currentTarget.value)}
          />
        </label>
        {COSTS.map((key) => (
          <label key={key}>
            {texts.value.money[key]}
            <input
              class="figure"
              inputMode="decimal"
              size={7}
              value={figureText(name, `replant-${key}`, null)}
              onInput={(event) => writeFigure(name, `replant-${key}`, event.currentTarget.value)}
            />
          </label>
        ))}
        <label>
          {texts.value.money.gaps}
          <select
            value={gaps}
            onChange={(event) => writeFigure(name, "replant-gaps", event.currentTarget.value)}
          >
            <option value="unknown">{texts.value.money.notLooked}</option>
            <option value="none">{texts.value.money.noGaps}</option>
            <option value="small">{texts.value.money.smallGaps}</option>
            <option value="large">{texts.value.money.largeGaps}</option>
          </select>
        </label>
      </fieldset>
      <div aria-live="polite">
        {typeof plan === "string" ? <p class="none">{plan}</p> : <Places plan={plan} system={system} />}
      </div>
      {typeof plan !== "string" && (
        <ul class="plain-list small">
          {plan.notes.map((note) => (
            <li key={note}>{note}</li>
          ))}
        </ul>
      )}
    </>
  );
}

/** The whole field at once, the places in it when asked for: few people replant a patch. */
function Places({ plan, system }: { plan: ReplantPlan; system: UnitSystem }) {
  const [field, ...patches] = plan.places;
  return (
    <>
      {field && <PlaceTable place={field} plan={plan} system={system} />}
      {patches.length > 0 && (
        <details>
          <summary>{texts.value.money.placeByPlace}</summary>
          {patches.map((place) => (
            <PlaceTable key={place.id} place={place} plan={plan} system={system} />
          ))}
        </details>
      )}
    </>
  );
}

function usualDate({ lastCounted }: ReplantBasis): string {
  return lastCounted === null ? "" : isoDateOf(dayNumber(lastCounted) + DAYS_TO_REPLANT);
}

type Chosen = { date: string; gaps: Gaps; costs: ReplantPlan["settings"]["costs"] };

/** The plan, or why there is none. */
function planOf(
  basis: ReplantBasis,
  document: FindingsDocument,
  { date, gaps, costs }: Chosen,
): ReplantPlan | string {
  if (date === "") return texts.value.money.sayDay;
  try {
    return weighReplanting(basis, document, {
      replantIsoDate: date,
      gaps,
      costs,
      standPerHa: null,
      replantStandPerHa: null,
      namesOptions: false,
    });
  } catch (error) {
    if (isEvenstandError(error)) return error.message;
    throw error;
  }
}

function PlaceTable({ place, plan, system }: { place: ReplantPlace; plan: ReplantPlan; system: UnitSystem }) {
  const { estimate, low, high } = place.standPerHa;
  const stand = (perHa: number) => formatQuantity(perHa, "plants", system);
  return (
    <>
      <table>
        <caption>
          {place.title}, {formatQuantity(place.areaHa, "area", system)}: {stand(estimate)} ({stand(low)} to{" "}
          {stand(high)}; {plural(place.counts, "count")})
        </caption>
        <thead>
          <tr>
            <th scope="col">{texts.value.money.published}</th>
            <th scope="col" class="number">
              {texts.value.money.keep}
            </th>
            <th scope="col" class="number">
              {texts.value.money.replant}
            </th>
            <th scope="col" class="number">
              {texts.value.money.brings}
            </th>
            <th scope="col">{texts.value.money.breaksEven}</th>
            <th scope="col">{texts.value.money.so}</th>
          </tr>
        </thead>
        <tbody>
          {place.byTable.map((result) => (
            <tr key={result.table}>
              <th scope="row">{result.table}</th>
              <td class="number">{shareSaid(result.keepShare)}</td>
              <td class="number">{shareSaid(result.replantShare)}</td>
              <td class="number">{netSaid(result, plan, system)}</td>
              <td>{evenSaid(result, plan, system)}</td>
              <td>{VERDICT_WORDS[result.verdict]}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {place.notes.map((note) => (
        <p key={note} class="small">
          {note}
        </p>
      ))}
    </>
  );
}

function shareSaid(share: number | null): string {
  return share === null ? "not readable" : formatPercent(share);
}

function netSaid({ netPerAcre }: KeepOrReplant, { settings }: ReplantPlan, system: UnitSystem): string {
  if (!netPerAcre) return "no price";
  const per = system === "farm" ? 1 : ACRES_PER_HECTARE;
  const said = (money: number) => {
    const whole = Math.round(money * per);
    return `${whole > 0 ? "+" : ""}${groupThousands(String(whole))}`;
  };
  return `${settings.currency} ${said(netPerAcre.estimate)}/${system === "farm" ? "ac" : "ha"} (${said(netPerAcre.low)} to ${said(netPerAcre.high)})`;
}

function evenSaid(
  { breakEvenStandPerHa, worksheet, netPerAcre }: KeepOrReplant,
  { settings }: ReplantPlan,
  system: UnitSystem,
): string {
  if (!netPerAcre) return "";
  const stand =
    breakEvenStandPerHa === null
      ? "at no stand"
      : `below ${formatQuantity(breakEvenStandPerHa, "plants", system)}`;
  const price = worksheet?.breakEvenPrice ?? null;
  return `${stand}; ${price === null ? "at no price" : `from ${settings.currency} ${groupThousands(price.toFixed(2))}/bu`}`;
}

/** The columns of a file to choose by hand: its position where no name says it, and what each variable stands in. */
import type { LayerRole } from "../../src/manifest/manifest.ts";
import type { ColumnChoice } from "../../src/manifest/manifest-schema.ts";
import { YIELD_VARIABLES } from "../../src/vocabulary/variables.ts";
import type { FileChoice, SortedFile } from "../protocol/file-choices.ts";
import { DESCRIBED } from "../words/questions.ts";

const VARIABLES_OF: typeof DESCRIBED = { ...DESCRIBED, yield: YIELD_VARIABLES };

/** Units a column of a kind may be in, by the unit the variable has inside, the usual one first. */
const UNITS_OF: Readonly<Record<string, readonly string[]>> = {
  mm: ["in", "mm", "cm"],
  m: ["ft", "m", "in", "cm"],
  N: ["lbf", "N", "daN", "kgf"],
  "m/s": ["mi/h", "km/h", "m/s"],
  "seeds/ha": ["seeds/ac", "seeds/ha"],
  "plants/ha": ["plants/ac", "plants/ha"],
  share: ["%", "share"],
  deg: ["deg"],
  C: ["F", "C"],
};

/** Parts whose records need a place. */
const PLACED: readonly LayerRole[] = ["plantingLog", "standCounts", "digs"];

export function offersColumns(file: SortedFile, role: LayerRole | null): boolean {
  return role !== null && file.columns.length > 0 && VARIABLES_OF[role] !== undefined;
}

export function ColumnPickers(props: {
  file: SortedFile;
  role: LayerRole;
  choice: FileChoice;
  onChoice: (choice: FileChoice) => void;
}) {
  const { file, role, choice, onChoice } = props;
  const recognised = role === file.role;
  const readAs = recognised ? file.readAs : {};
  const wantsPlace = !file.placed && PLACED.includes(role);
  const id = `columns-${file.file}`;
  return (
    <details class="column-pickers" open={!recognised || wantsPlace}>
      <summary>{recognised ? "Its columns" : "Choose its columns"}</summary>
      {wantsPlace && (
        <p class="column-row">
          <PlacePicker file={file} choice={choice} onChoice={onChoice} />
        </p>
      )}
      {Object.entries(VARIABLES_OF[role]!).map(([variable, { title, unit }]) => {
        const now = choice.columns?.[variable];
        const taken = Object.keys(readAs).filter((name) => readAs[name] === variable);
        return (
          <p key={variable} class="column-row">
            <label for={`${id}-${variable}`}>{title}</label>
            <select
              id={`${id}-${variable}`}
              value={columnOf(now) ?? ""}
              onChange={(event) =>
                onChoice(withColumn(choice, role, variable, event.currentTarget.value, UNITS_OF[unit]?.[0]))
              }
            >
              <option value="">{taken.length > 0 ? `as found: ${taken.join(", ")}` : "not named"}</option>
              {file.columns.map((column) => (
                <option key={column.name} value={column.name}>
                  {column.name}
                  {column.samples.length > 0 && ` (${column.samples.slice(0, 3).join(", ")})`}
                </option>
              ))}
            </select>
            {UNITS_OF[unit] && columnOf(now) && (
              <select
                aria-label={`Unit of the ${title}`}
                value={unitOf(now)}
                onChange={(event) =>
                  onChoice(withColumn(choice, role, variable, columnOf(now)!, event.currentTarget.value))
                }
              >
                {UNITS_OF[unit].map((each) => (
                  <option key={each} value={each}>
                    {each}
                  </option>
                ))}
              </select>
            )}
          </p>
        );
      })}
    </details>
  );
}

/** Longitude or easting, then latitude or northing: both or none. */
function PlacePicker(props: {
  file: SortedFile;
  choice: FileChoice;
  onChoice: (choice: FileChoice) => void;
}) {
  const { file, choice, onChoice } = props;
  const numbers = file.columns.filter(({ middle }) => middle !== null);
  const [x, y] = choice.position ?? ["", ""];
  const pick = (title: string, value: string, at: 0 | 1) => (
    <label>
      {title}{" "}
      <select
        value={value}
        onChange={(event) => {
          const next: [string, string] = [x, y];
          next[at] = event.currentTarget.value;
          onChoice({ ...choice, position: next });
        }}
      >
        <option value="">choose</option>
        {numbers.map(({ name, samples }) => (
          <option key={name} value={name}>
            {name} ({samples.slice(0, 2).join(", ")})
          </option>
        ))}
      </select>
    </label>
  );
  return (
    <>
      {pick("Longitude or easting", x, 0)} {pick("Latitude or northing", y, 1)}
    </>
  );
}

function columnOf(choice: ColumnChoice | undefined): string | null {
  if (choice === undefined || choice === null || Array.isArray(choice)) return null;
  if (typeof choice === "string") return choice;
  return typeof choice.column === "string" ? choice.column : null;
}

function unitOf(choice: ColumnChoice | undefined): string {
  return choice && typeof choice === "object" && "unit" in choice ? (choice.unit ?? "") : "";
}

/** Names of zones and lots stand beside the columns in a manifest; every other variable among them. */
function withColumn(
  choice: FileChoice,
  role: LayerRole,
  variable: string,
  column: string,
  unit: string | undefined,
): FileChoice {
  if (variable === "zone" && (role === "soilZones" || role === "seedLots")) {
    const { zone: _before, ...others } = choice;
    return column === "" ? others : { ...others, zone: column };
  }
  const { [variable]: _before, ...others } = choice.columns ?? {};
  if (column === "") return { ...choice, columns: others };
  return { ...choice, columns: { ...others, [variable]: unit ? { column, unit } : column } };
}

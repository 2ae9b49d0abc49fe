/** Plant spacings measured in the counts, by both counting rules, each named. */
import type { SpacingPart } from "../../src/findings/spacing-part.ts";
import type { UnitSystem } from "../../src/quantities/format.ts";
import { formatPercent, formatQuantity } from "../words/format.ts";
import { texts } from "../words/texts/texts.ts";

export function Spacing({ part, system }: { part: SpacingPart | null; system: UnitSystem }) {
  if (!part) return null;
  const length = (mm: number | null) => (mm === null ? "not known" : formatQuantity(mm, "depth", system));
  const rules = [
    { name: part.rules.bySpacings, shares: part.bySpacings },
    { name: part.rules.bySeeds, shares: part.bySeeds },
  ];
  return (
    <section aria-labelledby="spacing-title">
      <h3 id="spacing-title">{texts.value.money.spacing}</h3>
      <table>
        <caption>
          {part.spacings} spacings at {part.spots} {part.spots === 1 ? "spot" : "spots"}:{" "}
          {length(part.theoreticalMm)} wanted, {length(part.meanMm)} on average, SD {length(part.sdMm)},
          precision {part.precision === null ? "not known" : formatPercent(part.precision, 1)}.
        </caption>
        <thead>
          <tr>
            <th scope="col">{texts.value.money.rule}</th>
            <th scope="col" class="number">
              {texts.value.money.doubles}
            </th>
            <th scope="col" class="number">
              {texts.value.money.skips}
            </th>
            <th scope="col" class="number">
              {texts.value.money.single}
            </th>
          </tr>
        </thead>
        <tbody>
          {rules.map(({ name, shares }) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td class="number">{formatPercent(shares.multiples, 1)}</td>
              <td class="number">{formatPercent(shares.misses, 1)}</td>
              <td class="number">{formatPercent(shares.singles, 1)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="small">{part.words}</p>
    </section>
  );
}

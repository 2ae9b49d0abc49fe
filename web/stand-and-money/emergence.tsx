/** When plants were to be expected, by planting day, and what flag tests said by both published definitions. */
import type { EmergencePart, FlagTests } from "../../src/findings/emergence-part.ts";
import { rainWords } from "../../src/findings/rain-at-planting.ts";
import type { UnitSystem } from "../../src/quantities/format.ts";
import { convert } from "../../src/quantities/units.ts";
import { writingIn } from "../../src/texts/language.ts";
import { formatPercent, formatQuantity } from "../words/format.ts";
import { numberLocale } from "../words/numbers.ts";

export function Emergence({ part, system }: { part: EmergencePart | null; system: UnitSystem }) {
  return (
    <section aria-labelledby="emergence-title">
      <h3 id="emergence-title">When plants should be up</h3>
      {part === null && <p class="none">No weather file and no flag test: emergence could not be timed.</p>}
      {part !== null && part.days.length > 0 && <Days part={part} system={system} />}
      {part?.flagTests && <Flags tests={part.flagTests} />}
      {part !== null && part.rain.length > 0 && <Rain part={part} system={system} />}
    </section>
  );
}

function Days({ part, system }: { part: EmergencePart; system: UnitSystem }) {
  const byHour = part.days.some(({ coldPasses }) => coldPasses !== null);
  return (
    <>
      <table>
        <caption class="visually-hidden">Expected emergence by planting day</caption>
        <thead>
          <tr>
            <th scope="col">Planted</th>
            <th scope="col">Plants expected</th>
            <th scope="col">Range</th>
            <th scope="col" class="number">
              Degree days F
            </th>
            <th scope="col">Coldest soil, {byHour ? "first 48 hours" : "first two days"}</th>
            <th scope="col">Hardest rain before</th>
          </tr>
        </thead>
        <tbody>
          {part.days.map((day) => (
            <tr key={day.planted}>
              <th scope="row">
                <time>{day.planted}</time>
              </th>
              <td>{day.expected ?? "after the weather ends"}</td>
              <td>
                <time>{day.earliest ?? "later"}</time> to <time>{day.latest ?? "later"}</time>
              </td>
              <td class="number">
                {day.degreeDaysF.estimate.toFixed(0)} ({day.degreeDaysF.low.toFixed(0)} to{" "}
                {day.degreeDaysF.high.toFixed(0)}, {day.basis})
              </td>
              <td>
                {day.lowestSoilC === null ? "not known" : temperature(day.lowestSoilC, system)}
                {day.coldStart && <strong> cold start</strong>}
                {day.coldStart &&
                  day.coldPasses &&
                  ` (${day.coldPasses.cold} of ${day.coldPasses.of} passes)`}
              </td>
              <td>
                {day.heaviestRain
                  ? `${formatQuantity(day.heaviestRain.rainMm, "depth", system)} on ${day.heaviestRain.date}`
                  : "none"}
                {day.heaviestRain?.beating && <strong> may have crusted</strong>}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="small">
        Degree days by the 86/50 F method from the day after planting; the range is that of the published
        requirements. Plants that should be up and are not are worth a dig.
      </p>
    </>
  );
}

function Rain({ part, system }: { part: EmergencePart; system: UnitSystem }) {
  return (
    <>
      <h4>The same soil planted before and after rain</h4>
      <ul class="plain-list rain">
        {part.rain.map((one) => (
          <li key={`${one.soilZone} ${one.rainFrom}`}>
            {rainWords(one, writingIn(system, "en", numberLocale.value))}
          </li>
        ))}
      </ul>
    </>
  );
}

function Flags({ tests }: { tests: FlagTests }) {
  const said = (share: number | null) => (share === null ? "not known" : formatPercent(share));
  return (
    <table>
      <caption>
        Flag tests: {tests.plants} plants at {tests.spots} {tests.spots === 1 ? "spot" : "spots"}. Two
        published definitions of late; they are not the same thing.
      </caption>
      <thead>
        <tr>
          <th scope="col">Late if</th>
          <th scope="col" class="number">
            Share late
          </th>
          <th scope="col">Source</th>
        </tr>
      </thead>
      <tbody>
        <tr>
          <th scope="row">more than 3 days after the first</th>
          <td class="number">{said(tests.lateShareByDays)}</td>
          <td class="small">{tests.definitions.byDays}</td>
        </tr>
        <tr>
          <th scope="row">more than 25 degree days F after the first</th>
          <td class="number">{said(tests.lateShareByDegreeDays)}</td>
          <td class="small">{tests.definitions.byDegreeDays}</td>
        </tr>
      </tbody>
    </table>
  );
}

function temperature(celsius: number, system: UnitSystem): string {
  return system === "farm" ? `${convert(celsius, "C", "F").toFixed(0)} F` : `${celsius.toFixed(0)} C`;
}

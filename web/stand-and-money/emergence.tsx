/** When plants were to be expected, by planting day, and what flag tests said by both published definitions. */
import type { EmergencePart, FlagTests } from "../../src/findings/emergence-part.ts";
import { rainWords } from "../../src/findings/rain-at-planting.ts";
import type { UnitSystem } from "../../src/quantities/format.ts";
import { convert } from "../../src/quantities/units.ts";
import { writingIn } from "../../src/texts/language.ts";
import { formatPercent, formatQuantity } from "../words/format.ts";
import { numberLocale } from "../words/numbers.ts";
import { texts } from "../words/texts/texts.ts";

export function Emergence({ part, system }: { part: EmergencePart | null; system: UnitSystem }) {
  return (
    <section aria-labelledby="emergence-title">
      <h3 id="emergence-title">{texts.value.money.up}</h3>
      {part === null && <p class="none">{texts.value.money.noTiming}</p>}
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
        <caption class="visually-hidden">{texts.value.money.byDay}</caption>
        <thead>
          <tr>
            <th scope="col">{texts.value.money.planted}</th>
            <th scope="col">{texts.value.money.expected}</th>
            <th scope="col">{texts.value.money.range}</th>
            <th scope="col" class="number">
              {texts.value.money.degreeDays}
            </th>
            <th scope="col">{texts.value.money.coldest(byHour)}</th>
            <th scope="col">{texts.value.money.hardestRain}</th>
          </tr>
        </thead>
        <tbody>
          {part.days.map((day) => (
            <tr key={day.planted}>
              <th scope="row">
                <time>{day.planted}</time>
              </th>
              <td>{day.expected ?? texts.value.money.afterWeather}</td>
              <td>
                <time>{day.earliest ?? texts.value.money.later}</time> to{" "}
                <time>{day.latest ?? texts.value.money.later}</time>
              </td>
              <td class="number">
                {day.degreeDaysF.estimate.toFixed(0)} ({day.degreeDaysF.low.toFixed(0)} to{" "}
                {day.degreeDaysF.high.toFixed(0)}, {day.basis})
              </td>
              <td>
                {day.lowestSoilC === null ? texts.value.map.notKnown : temperature(day.lowestSoilC, system)}
                {day.coldStart && <strong>{texts.value.money.cold}</strong>}
                {day.coldStart &&
                  day.coldPasses &&
                  texts.value.money.coldPasses(day.coldPasses.cold, day.coldPasses.of)}
              </td>
              <td>
                {day.heaviestRain
                  ? texts.value.money.rainOn(
                      formatQuantity(day.heaviestRain.rainMm, "depth", system),
                      day.heaviestRain.date,
                    )
                  : texts.value.money.none}
                {day.heaviestRain?.beating && <strong>{texts.value.money.crusted}</strong>}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="small">{texts.value.money.daysSaid}</p>
    </>
  );
}

function Rain({ part, system }: { part: EmergencePart; system: UnitSystem }) {
  return (
    <>
      <h4>{texts.value.money.rain}</h4>
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
  const said = (share: number | null) => (share === null ? texts.value.map.notKnown : formatPercent(share));
  return (
    <table>
      <caption>{texts.value.money.flags(tests.plants, tests.spots)}</caption>
      <thead>
        <tr>
          <th scope="col">{texts.value.money.lateIf}</th>
          <th scope="col" class="number">
            {texts.value.money.shareLate}
          </th>
          <th scope="col">{texts.value.map.source}</th>
        </tr>
      </thead>
      <tbody>
        <tr>
          <th scope="row">{texts.value.money.lateDays}</th>
          <td class="number">{said(tests.lateShareByDays)}</td>
          <td class="small">{tests.definitions.byDays}</td>
        </tr>
        <tr>
          <th scope="row">{texts.value.money.lateDegrees}</th>
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

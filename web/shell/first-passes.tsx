/** The first passes of an unfinished log on one screen: what to change now and where to dig, as the command says it. */
import { useEffect } from "preact/hooks";
import type { CheckScreen } from "../../src/check/check-screen.ts";
import { lookAtFirstPasses, readSorted } from "../client/open-field.ts";
import * as state from "../model/state.ts";
import { OpenFields } from "./welcome.tsx";

type Checked = Extract<state.Phase, { kind: "checked" }>;

export function FirstPasses({ checked }: { checked: Checked }) {
  const { screen, manifest, sorting } = checked;
  const units = state.unitSystem.value;
  useEffect(() => {
    if (screen.units !== units) void lookAtFirstPasses(manifest);
  }, [screen, units, manifest]);
  return (
    <section class="first-passes" aria-labelledby="first-passes-title">
      <h2 id="first-passes-title">The first passes</h2>
      <p>{screen.seen}</p>
      {screen.leftOut.map((note) => (
        <p key={note}>{note}</p>
      ))}
      <div class="first-passes-now">
        <h3>Change now</h3>
        {screen.changes.length > 0 ? (
          <ol>
            {screen.changes.map((change) => (
              <li key={change}>{change}</li>
            ))}
          </ol>
        ) : (
          <p>{screen.nothing}</p>
        )}
        {screen.more > 0 && <p>And {screen.more} more, which wait until these are mended.</p>}
        <h3>Where to dig</h3>
        <p>{screen.dig}</p>
        <p class="caution">{screen.caution}</p>
      </div>
      <Figures screen={screen} />
      {screen.watch.length > 0 && (
        <ul>
          {screen.watch.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
      <p class="small">{screen.notJudged}</p>
      <div class="welcome-actions">
        <OpenFields title="The log has grown: choose it again" />
        <button type="button" onClick={() => void readSorted(manifest)}>
          Work out the whole log
        </button>
        <button
          type="button"
          onClick={() => {
            state.phase.value = { kind: "sorting", sorting };
          }}
        >
          Back to the files
        </button>
      </div>
    </section>
  );
}

function Figures({ screen: { table, star } }: { screen: CheckScreen }) {
  return (
    <>
      <table class="first-passes-figures">
        <thead>
          <tr>
            <th scope="col">
              <span class="visually-hidden">Figure</span>
            </th>
            <th scope="col">Now</th>
            <th scope="col">Most lie from, to</th>
            <th scope="col">Wanted</th>
          </tr>
        </thead>
        <tbody>
          {table.map(({ name, isPart, now, tenths, wanted }, index) => (
            <tr key={index} class={isPart ? "part" : undefined}>
              <th scope="row">{name}</th>
              <td>{now}</td>
              <td>{tenths}</td>
              <td>{wanted}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {star !== "" && <p class="small">* {star}</p>}
    </>
  );
}

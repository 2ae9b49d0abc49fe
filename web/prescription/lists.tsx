/** What stands around the cards: what to mend first, where to dig, the cautions, and what the limits did. */
import type { Advice } from "../../src/prescription/prescription.ts";
import type { PrescriptionView } from "../../src/report/prescription-view.ts";
import { runsOf } from "../../src/words/finding-words.ts";
import { texts } from "../words/texts/texts.ts";
import { InLedger } from "./in-ledger.tsx";

const FIRST: readonly Advice["kind"][] = ["repair", "speed", "depth"];
const FIRST_WORDS = {
  repair: "repair",
  speed: "speed",
  depth: "depth",
  dig: "dig",
  "test-strip": "testStrip",
} as const satisfies Record<Advice["kind"], string>;

export function FirstList({ view }: { view: PrescriptionView }) {
  const advice = view.advice.filter(({ kind }) => FIRST.includes(kind));
  return (
    <section class="first-list" aria-labelledby="first-title">
      <h3 id="first-title">{texts.value.prescription.first}</h3>
      {advice.length === 0 ? <p>{texts.value.prescription.nothingFirst}</p> : <AdviceList advice={advice} />}
    </section>
  );
}

export function DigList({ view }: { view: PrescriptionView }) {
  const digs = view.advice.filter(({ kind }) => kind === "dig");
  const strips = view.advice.filter(({ kind }) => kind === "test-strip");
  return (
    <>
      {digs.length > 0 && (
        <section aria-labelledby="dig-title">
          <h3 id="dig-title">{texts.value.prescription.digFirst}</h3>
          <AdviceList advice={digs} />
        </section>
      )}
      {strips.length > 0 && (
        <section aria-labelledby="strip-title">
          <h3 id="strip-title">{texts.value.prescription.strips}</h3>
          <AdviceList advice={strips} />
        </section>
      )}
    </>
  );
}

function AdviceList({ advice }: { advice: readonly Advice[] }) {
  return (
    <ul class="advice">
      {advice.map(({ kind, words, rowUnits, finding }) => (
        <li key={words}>
          {FIRST.includes(kind) && <strong>{texts.value.prescription[FIRST_WORDS[kind]]}: </strong>}
          {words}
          {rowUnits.length > 0 && (
            <span class="small"> {texts.value.prescription.rowUnits(rowUnits.length, runsOf(rowUnits))}</span>
          )}
          {finding && <InLedger finding={finding} />}
        </li>
      ))}
    </ul>
  );
}

/** Cautions that stay in view wherever a load is set; the others are one click away. */
const IN_VIEW = 2;

export function Cautions({ view, open }: { view: PrescriptionView; open: boolean }) {
  const others = view.cautions.slice(IN_VIEW);
  return (
    <aside class="cautions" aria-label={texts.value.prescription.cautions}>
      {view.cautions.slice(0, IN_VIEW).map((words) => (
        <p key={words}>{words}</p>
      ))}
      {others.length > 0 && (
        <details open={open}>
          <summary>{texts.value.prescription.allCautions}</summary>
          <ul>
            {others.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </details>
      )}
    </aside>
  );
}

/** How the figures of the cards and of the whole field come about. */
export function WorkedOut({ view }: { view: PrescriptionView }) {
  return (
    <details class="how">
      <summary>{texts.value.short.howWorked}</summary>
      <p>
        For each soil zone the plants counted are set against the load logged where they stood. The response
        falls off below one load and above another; where both lie, and how fast it falls, starts from what is
        usual for the soil and the moisture and is moved by this field's counts. The load varies along the row
        even where it is held well, and that is in every expectation. Loads whose expected stand is within 0.3
        points of the best are one range; today's load stays where another does not promise 0.2 points more.
      </p>
      <p>
        Plants in 100 are counted of the target. Intervals hold 90 % and compare with keeping today's load in
        the picked state of the ground. For the whole field the ends of the zones' intervals are added up,
        which makes it rather too wide than too narrow. Money is a season's grain at the field's price and
        yield{view.effect.notes.map((note) => `; ${note}`)}. Starting loads, limits and what lies between dry,
        fit and damp ground are our judgement.
      </p>
    </details>
  );
}

export function GuardList({ view, open }: { view: PrescriptionView; open: boolean }) {
  return (
    <details class="guards" open={open}>
      <summary>{texts.value.prescription.whatLimits}</summary>
      <ul class="advice">
        {view.guards.map(({ code, result, words }) => (
          <li key={`${code} ${words}`}>
            <strong>{texts.value.prescription[result]}: </strong>
            {words}
          </li>
        ))}
      </ul>
    </details>
  );
}

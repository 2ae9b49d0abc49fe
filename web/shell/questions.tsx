/** What the columns of a file leave to the user: each open question with a look at the columns it is about. */
import { useState } from "preact/hooks";
import type { ColumnChoice } from "../../src/manifest/manifest-schema.ts";
import { answerQuestions } from "../client/open-field.ts";
import { saveJson } from "../controls/save-file.ts";
import * as state from "../model/state.ts";
import { type ColumnGlimpse, type ColumnQuestion, type Histogram, withAnswers } from "../protocol/answers.ts";
import type { AskingView } from "../protocol/protocol.ts";
import { groupThousands, plural } from "../words/format.ts";
import { answerSaid, questionSaid, titled } from "../words/questions.ts";

export function Questions({ asking }: { asking: AskingView }) {
  const { file, manifest, questions } = asking;
  // The place of the chosen answer to each question; null where none is chosen yet.
  const [chosen, setChosen] = useState<(number | null)[]>(() => questions.map(() => null));
  const left = chosen.filter((choice) => choice === null).length;
  const answers = questions.map(({ answers }, index) => answers[chosen[index] ?? -1] as ColumnChoice);
  return (
    <form
      class="questions"
      aria-labelledby="questions-title"
      onSubmit={(event) => {
        event.preventDefault();
        if (left === 0) answerQuestions(answers);
      }}
    >
      <h2 id="questions-title">
        {file}: {questions.length === 1 ? "one thing is" : `${questions.length} things are`} yours to say
      </h2>
      <p>
        The columns do not tell it surely, and a wrong guess would make every number after it wrong. If you do
        not know, leave the column out: the answer then says that it was not judged.
      </p>
      {questions.map((question, index) => (
        <Question
          key={question.variable}
          question={question}
          chosen={chosen[index] ?? null}
          onChoose={(choice) => setChosen(chosen.map((old, place) => (place === index ? choice : old)))}
        />
      ))}
      <div class="welcome-actions">
        <button type="submit" class="main-action" disabled={left > 0}>
          Go on
        </button>
        <button
          type="button"
          disabled={left > 0}
          onClick={() => saveJson("field.json", withAnswers(manifest, questions, answers))}
        >
          Save field.json
        </button>
        <button
          type="button"
          onClick={() => {
            state.phase.value = { kind: "empty" };
          }}
        >
          Other files
        </button>
      </div>
      <p class="small" role="status">
        {left > 0
          ? `${plural(left, "question")} without an answer yet.`
          : "Kept beside your files, field.json answers these questions next time."}
      </p>
    </form>
  );
}

function Question(props: {
  question: ColumnQuestion;
  chosen: number | null;
  onChoose: (choice: number) => void;
}) {
  const { question, chosen, onChoose } = props;
  return (
    <fieldset class="question">
      <legend>{questionSaid(question)}</legend>
      <div class="glimpses">
        {question.columns.map((column) => (
          <Glimpse key={column.name} column={column} />
        ))}
      </div>
      <div class="answers">
        {question.answers.map((answer, place) => {
          const said = answerSaid(question, answer, state.unitSystem.value);
          return (
            <label key={said}>
              <input
                type="radio"
                name={`${question.role} ${question.variable}`}
                checked={chosen === place}
                onChange={() => onChoose(place)}
              />{" "}
              {said}
            </label>
          );
        })}
      </div>
      <p class="small">Why it is asked: {titled(question.role, question.why)}.</p>
    </fieldset>
  );
}

function Glimpse({ column }: { column: ColumnGlimpse }) {
  const { name, records, missing, samples, histogram } = column;
  return (
    <figure class="glimpse">
      <figcaption>
        <strong>{name}</strong>
        <span class="small">
          {" "}
          {groupThousands(String(records))} records
          {missing > 0 && `, ${groupThousands(String(missing))} without a value`}
        </span>
      </figcaption>
      {histogram && <Bars name={name} histogram={histogram} />}
      <p class="small">{samples.length > 0 ? `such as ${samples.join(", ")}` : "no values at all"}</p>
    </figure>
  );
}

const WIDTH = 240;
const HEIGHT = 54;

function Bars({ name, histogram }: { name: string; histogram: Histogram }) {
  const { low, high, counts, beyond, least, most } = histogram;
  const fullest = Math.max(...counts);
  const step = WIDTH / counts.length;
  const [from, to] = [low, high].map((value) => groupThousands(String(Number(value.toPrecision(4)))));
  return (
    <>
      <svg
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        role="img"
        aria-label={`How the values of ${name} lie, from ${from} to ${to}`}
      >
        {counts.map((count, bar) => {
          const height = count === 0 ? 0 : Math.max(1, (count / fullest) * (HEIGHT - 2));
          return <rect key={bar} x={bar * step + 0.5} y={HEIGHT - height} width={step - 1} height={height} />;
        })}
        <path d={`M0 ${HEIGHT - 0.5}H${WIDTH}`} />
      </svg>
      <p class="glimpse-ends small">
        <span>{from}</span>
        <span>{to}</span>
      </p>
      {beyond > 0 && (
        <p class="small">
          {plural(beyond, "value")} beyond, not drawn; all lie from {least} to {most}
        </p>
      )}
    </>
  );
}

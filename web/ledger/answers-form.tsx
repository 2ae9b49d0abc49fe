/** A short form beside the headline: what was not said and would change it; answering works the field out again. */
import { useState } from "preact/hooks";
import type { WantedKey } from "../../src/field/wanted-answers.ts";
import type { FindingsDocument } from "../../src/findings/findings-document.ts";
import type { FieldAnswers } from "../../src/manifest/field-answers.ts";
import { answerField } from "../client/open-field.ts";
import { saveJson } from "../controls/save-file.ts";
import { type AnswerBox, boxesOf, given, READ_AS } from "../model/answer-boxes.ts";
import * as state from "../model/state.ts";
import { numberLocale, readTyped } from "../words/numbers.ts";

export function AnswersForm({ document }: { document: FindingsDocument }) {
  const manifest = state.manifest.value;
  const [typed, setTyped] = useState<Partial<Record<AnswerBox["name"], string>>>({});
  const [trouble, setTrouble] = useState<string | null>(null);
  const { wanted } = document.summary;
  const system = state.unitSystem.value;
  // Only a page that read the files can work them out again.
  if (!manifest) return null;
  const said = given(manifest);
  if (wanted.length === 0 && said.length === 0) return null;
  const submit = async () => {
    const read = answersOf(wanted.map(({ key }) => key));
    setTrouble(typeof read === "string" ? read : ((await answerField(read))?.message ?? null));
  };
  const answersOf = (keys: readonly WantedKey[]): FieldAnswers | string => {
    let answers: FieldAnswers = {};
    for (const key of keys) {
      const boxes = boxesOf(key, system);
      const texts = boxes.map(({ name }) => (typed[name] ?? "").trim());
      if (texts.every((text) => text === "")) continue;
      const values = boxes.map((box, place) =>
        box.kind === "number" ? readTyped(texts[place]!, numberLocale.value) : texts[place]!,
      );
      const wrong = boxes.find((_, place) => values[place] === "" || Number.isNaN(values[place]));
      if (wrong) return `${wrong.title}: write a number, or leave the question empty.`;
      answers = merged(answers, READ_AS[key](values, system));
    }
    return Object.keys(answers).length === 0 ? "Nothing was answered yet." : answers;
  };
  const body = (
    <>
      {wanted.length > 0 && (
        <>
          <div class="answer-boxes">
            {wanted.flatMap(({ key, why }) =>
              boxesOf(key, system).map((box) => (
                <Box
                  key={box.name}
                  box={box}
                  why={why}
                  text={typed[box.name] ?? ""}
                  onText={(text) => setTyped({ ...typed, [box.name]: text })}
                />
              )),
            )}
          </div>
          <button type="submit" class="main-action">
            Work it out with these
          </button>
          <p class="small" role="status">
            {trouble ?? "What you do not know, leave empty."}
          </p>
        </>
      )}
      {said.length > 0 && <p class="small answers-used">Used: {said.join("; ")}.</p>}
      {said.length > 0 && (
        <p class="small">
          <button type="button" class="link" onClick={() => saveJson("field.json", manifest)}>
            Save field.json
          </button>{" "}
          keeps the answers beside the files.
        </p>
      )}
    </>
  );
  return (
    <form
      class="answers-form"
      aria-label="Answers about the field"
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
    >
      {/* Open only where the answers are what is missing; a verdict stands without them. */}
      <details open={wanted.length > 0 && document.summary.form === "unsettled"}>
        <summary>
          {wanted.length > 0 ? "Answers that would change this" : "What you said of the field"}
        </summary>
        {body}
      </details>
    </form>
  );
}

function Box(props: { box: AnswerBox; why: string; text: string; onText: (text: string) => void }) {
  const { box, why, text, onText } = props;
  const id = `answer-${box.name}`;
  return (
    <p class="answer-box">
      <label for={id} title={why}>
        {box.title}
        {box.unit && <span class="small">, {box.unit}</span>}
      </label>
      {box.kind === "number" ? (
        <input
          id={id}
          type="text"
          inputMode="decimal"
          value={text}
          onInput={(event) => onText(event.currentTarget.value)}
        />
      ) : (
        <select id={id} value={text} onChange={(event) => onText(event.currentTarget.value)}>
          <option value="">not known</option>
          <option value="sensed">sensed</option>
          <option value="set">only set</option>
        </select>
      )}
    </p>
  );
}

function merged(one: FieldAnswers, other: FieldAnswers): FieldAnswers {
  return {
    ...one,
    ...other,
    ...(one.targets || other.targets ? { targets: { ...one.targets, ...other.targets } } : {}),
    ...(one.prices || other.prices ? { prices: { ...one.prices, ...other.prices } } : {}),
  };
}

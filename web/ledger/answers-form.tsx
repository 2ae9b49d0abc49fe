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
import { texts } from "../words/texts/texts.ts";

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
      const written = boxes.map(({ name }) => (typed[name] ?? "").trim());
      if (written.every((text) => text === "")) continue;
      const values = boxes.map((box, place) =>
        box.kind === "number" ? readTyped(written[place]!, numberLocale.value) : written[place]!,
      );
      const wrong = boxes.find((_, place) => values[place] === "" || Number.isNaN(values[place]));
      if (wrong) return texts.value.answers.writeNumber(wrong.title);
      answers = merged(answers, READ_AS[key](values, system));
    }
    return Object.keys(answers).length === 0 ? texts.value.answers.nothing : answers;
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
            {texts.value.answers.work}
          </button>
          <p class="small" role="status">
            {trouble ?? texts.value.answers.leaveEmpty}
          </p>
        </>
      )}
      {said.length > 0 && <p class="small answers-used">{texts.value.answers.used(said.join("; "))}</p>}
      {said.length > 0 && (
        <p class="small">
          <button type="button" class="link" onClick={() => saveJson("field.json", manifest)}>
            {texts.value.ledger.saveField}
          </button>{" "}
          {texts.value.answers.keeps}
        </p>
      )}
    </>
  );
  return (
    <form
      class="answers-form"
      aria-label={texts.value.answers.label}
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
    >
      {/* Open only where the answers are what is missing; a verdict stands without them. */}
      <details open={wanted.length > 0 && document.summary.form === "unsettled"}>
        <summary>{wanted.length > 0 ? texts.value.answers.would : texts.value.answers.saidOf}</summary>
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
          <option value="">{texts.value.map.notKnown}</option>
          <option value="sensed">{texts.value.answers.sensed}</option>
          <option value="set">{texts.value.answers.onlySet}</option>
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

/** What is said first on the page and in the report: the stand, the verdict, and behind one press what was tested. */
import type { FindingsDocument } from "../../src/findings/findings-document.ts";
import { contrastLines } from "../../src/words/contrast-words.ts";

export function Headline({ document }: { document: FindingsDocument }) {
  const { stand, sentence, form, contrasts } = document.summary;
  const found = contrasts.filter(({ verdict }) => verdict === "short" || verdict === "could-be");
  const lines = contrastLines(found);
  const tested = contrastLines(contrasts.filter((contrast) => !found.includes(contrast)));
  return (
    <div class="headline">
      {stand && <p class="headline-stand">{stand.words}</p>}
      <p class="headline-sentence">{sentence}</p>
      <List lines={lines} />
      {tested.length > 0 && (
        <>
          <details class="headline-tested" open={form === "unsettled"}>
            <summary>What was tested</summary>
            <List lines={tested} />
          </details>
          <div class="on-paper">
            <List lines={tested} />
          </div>
        </>
      )}
    </div>
  );
}

function List({ lines }: { lines: readonly string[] }) {
  if (lines.length === 0) return null;
  return (
    <ul class="headline-contrasts">
      {lines.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}

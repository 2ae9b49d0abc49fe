/** What is said first on the page and in the report: the stand, the verdict, and behind one press what was tested. */
import type { FindingsDocument } from "../../src/findings/findings-document.ts";
import { contrastLines } from "../../src/words/contrast-words.ts";
import { texts } from "../words/texts/texts.ts";

/** @param onPaper whether paper says here what was tested and found even; the farmer's sheet leaves it to the ledger */
export function Headline({ document, onPaper = true }: { document: FindingsDocument; onPaper?: boolean }) {
  const { stand, sentence, form, contrasts } = document.summary;
  const lines = contrastLines(contrasts.filter(speaks));
  const tested = testedLines(document);
  return (
    <div class="headline">
      {stand && <p class="headline-stand">{stand.words}</p>}
      <p class="headline-sentence">{sentence}</p>
      <List lines={lines} />
      {tested.length > 0 && (
        <>
          <details class="headline-tested" open={form === "unsettled"}>
            <summary>{texts.value.ledger.tested}</summary>
            <List lines={tested} />
          </details>
          {onPaper && <TestedOnPaper document={document} />}
        </>
      )}
    </div>
  );
}

function speaks({ verdict }: FindingsDocument["summary"]["contrasts"][number]): boolean {
  return verdict === "short" || verdict === "could-be";
}

function testedLines({ summary }: FindingsDocument): string[] {
  return contrastLines(summary.contrasts.filter((contrast) => !speaks(contrast)));
}

/** What was tested and found even: on the screen it stands behind a press, on paper in the open. */
export function TestedOnPaper({ document }: { document: FindingsDocument }) {
  return (
    <div class="on-paper">
      <List lines={testedLines(document)} />
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

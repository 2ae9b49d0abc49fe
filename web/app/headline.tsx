/** What is said first on the page and in the report: the stand, the verdict, and what was tested. */
import { contrastLines } from "../../src/report/contrast-words.ts";
import type { FindingsDocument } from "../../src/report/findings-document.ts";

export function Headline({ document }: { document: FindingsDocument }) {
  const { stand, sentence, contrasts } = document.summary;
  const lines = contrastLines(contrasts);
  return (
    <div class="headline">
      {stand && <p class="headline-stand">{stand.words}</p>}
      <p class="headline-sentence">{sentence}</p>
      {lines.length > 0 && (
        <ul class="headline-contrasts">
          {lines.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
    </div>
  );
}

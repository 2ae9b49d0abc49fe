/** The files of the prescription as it stands: made by the worker when asked for, each with what it is for. */
import { useEffect, useState } from "preact/hooks";
import type { PrescriptionView } from "../../src/report/prescription-view.ts";
import { filesNow } from "../client/ask-prescription.ts";
import { saveFile } from "../controls/save-file.ts";
import type { PrescriptionFiles } from "../protocol/protocol.ts";
import { MOISTURE_WORDS } from "../words/rate-words.ts";
import { texts } from "../words/texts/texts.ts";

type Made = { of: PrescriptionView; files: PrescriptionFiles } | { of: PrescriptionView; failed: string };

export function Files({ view }: { view: PrescriptionView }) {
  const [open, setOpen] = useState(false);
  const [made, setMade] = useState<Made | null>(null);
  useEffect(() => {
    if (!open || made?.of === view) return;
    let wanted = true;
    filesNow().then(
      (files) => wanted && setMade({ of: view, files }),
      (error: unknown) => wanted && setMade({ of: view, failed: (error as Error).message }),
    );
    return () => {
      wanted = false;
    };
  }, [open, view, made]);
  const ready = made?.of === view ? made : null;
  return (
    <details class="files" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>
        {texts.value.prescription.filesFor(MOISTURE_WORDS[view.settings.moisture].title.toLowerCase())}
      </summary>
      {view.withheld !== null && <p class="no-channel">{texts.value.prescription.withheld(view.withheld)}</p>}
      {view.withheld === null && view.channel.reason && (
        <p class="no-channel">
          <button type="button" disabled={true}>
            {texts.value.prescription.machineFiles}
          </button>{" "}
          {view.channel.reason}
        </p>
      )}
      <p role="status" class="small">
        {!ready && open && texts.value.prescription.making}
        {ready && "failed" in ready && ready.failed}
      </p>
      {ready && "files" in ready && <FileList {...ready.files} />}
    </details>
  );
}

function FileList({ files, notes }: PrescriptionFiles) {
  const rare = files.filter((file) => file.rare);
  return (
    <>
      <FileRows files={files.filter((file) => !file.rare)} />
      {rare.length > 0 && (
        <details>
          <summary>{texts.value.prescription.otherKinds}</summary>
          <FileRows files={rare} />
        </details>
      )}
      {notes.map((note) => (
        <p key={note} class="small">
          {note}
        </p>
      ))}
    </>
  );
}

function FileRows({ files }: { files: readonly FileMade[] }) {
  return (
    <ul class="file-list">
      {files.map((file) => (
        <li key={file.name}>
          <button type="button" onClick={() => saveFile(file.name, file.bytes)}>
            {file.name}
          </button>
          {file.name.endsWith(".html") && (
            <button type="button" class="link" onClick={() => openSheet(file)}>
              {texts.value.prescription.openToPrint}
            </button>
          )}
          <span class="small"> {file.purpose}</span>
        </li>
      ))}
    </ul>
  );
}

type FileMade = PrescriptionFiles["files"][number];

/**
 * The sheet in a window of its own, to print. What the page opens is held by the page's own policy, which allows no
 * style in the text of a page: the sheet's style is given to the window as a sheet of rules instead.
 */
function openSheet({ bytes }: FileMade): void {
  const opened = window.open("", "_blank") as (Window & typeof globalThis) | null;
  if (!opened) return;
  const rules = new opened.CSSStyleSheet();
  // Taken out of the text before it is read, or the policy would complain of it; text between tags holds no quote.
  const markup = new TextDecoder()
    .decode(bytes)
    .replace(/<style>(.*?)<\/style>/s, (_, style: string) => {
      rules.replaceSync(style);
      return "";
    })
    .replaceAll(' style="', ' data-style="');
  const sheet = new DOMParser().parseFromString(markup, "text/html");
  const { document } = opened;
  document.adoptedStyleSheets = [rules];
  document.documentElement.lang = sheet.documentElement.lang;
  document.title = sheet.title;
  document.body.replaceChildren(...[...sheet.body.childNodes].map((node) => document.importNode(node, true)));
  for (const styled of document.querySelectorAll<HTMLElement>("[data-style]"))
    styled.style.cssText = styled.dataset.style ?? "";
}

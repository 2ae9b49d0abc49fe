/** The files of the prescription as it stands: made by the worker when asked for, each with what it is for. */
import { useEffect, useState } from "preact/hooks";
import type { PrescriptionView } from "../../src/report/prescription-view.ts";
import type { PrescriptionFiles } from "../engine/protocol.ts";
import { filesNow } from "./ask.ts";
import { MOISTURE_WORDS } from "./words.ts";

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
      <summary>Files for {MOISTURE_WORDS[view.settings.moisture].title.toLowerCase()} ground</summary>
      {view.channel.reason && (
        <p class="no-channel">
          <button type="button" disabled={true}>
            Files for the machine
          </button>{" "}
          {view.channel.reason}
        </p>
      )}
      <p role="status" class="small">
        {!ready && open && "Making the files\u2026"}
        {ready && "failed" in ready && ready.failed}
      </p>
      {ready && "files" in ready && <FileList {...ready.files} />}
    </details>
  );
}

function FileList({ files, notes }: PrescriptionFiles) {
  return (
    <>
      <ul class="file-list">
        {files.map((file) => (
          <li key={file.name}>
            <button type="button" onClick={() => handOver(file)}>
              {file.name}
            </button>
            <span class="small"> {file.purpose}</span>
            {isSheet(file.name) && (
              <button type="button" class="link" onClick={() => openSheet(file)}>
                Open to print
              </button>
            )}
          </li>
        ))}
      </ul>
      {notes.map((note) => (
        <p key={note} class="small">
          {note}
        </p>
      ))}
    </>
  );
}

type FileMade = PrescriptionFiles["files"][number];

function isSheet(name: string): boolean {
  return name.endsWith(".html");
}

function addressOf({ name, bytes }: FileMade): string {
  const type = isSheet(name) ? "text/html" : "application/octet-stream";
  return URL.createObjectURL(new Blob([bytes as Uint8Array<ArrayBuffer>], { type }));
}

function handOver(file: FileMade): void {
  const address = addressOf(file);
  const link = document.createElement("a");
  link.href = address;
  link.download = file.name.split("/").at(-1)!;
  link.click();
  URL.revokeObjectURL(address);
}

/** In a window of its own; the address lives as long as the page, since the window may be reloaded. */
function openSheet(file: FileMade): void {
  window.open(addressOf(file), "_blank", "noopener");
}

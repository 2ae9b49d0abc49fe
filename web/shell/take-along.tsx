/** What can be taken along from the page: each file by a press, made by the same functions as the command's. */
import { signal } from "@preact/signals";
import { engineAtWork, keepOpenField } from "../client/open-field.ts";
import { Menu } from "../controls/menu.tsx";
import { type Printed, print } from "../controls/print.ts";
import { saveFile, saveJson } from "../controls/save-file.ts";
import { pane } from "../model/prescription-pane.ts";
import { sessionNow } from "../model/remembered.ts";
import * as state from "../model/state.ts";
import type { FileGroup } from "../protocol/protocol.ts";
import { texts } from "../words/texts/texts.ts";

interface Item {
  name: string;
  /** What it is for, in a few words. */
  purpose: string;
  take: () => Promise<void> | void;
  /** Said afterwards, where nothing is saved that the browser itself shows. */
  done?: string;
}

/** What is being made or went wrong; empty for nothing. */
const told = signal("");

/** The page that read the files makes them; a report carries no worker and is a file already. */
export function TakeAlong() {
  const field = state.findingsDocument.value?.field;
  if (!field || state.manifest.value === null || state.phase.value.kind !== "ready") return null;
  const name = fileName(field.name);
  const { along: said, header } = texts.value;
  return (
    <Menu
      name="along"
      title={said.title}
      onOpen={() => {
        told.value = "";
      }}
    >
      <Group
        title={said.toRead}
        items={[
          made("report", "report.html", said.report),
          {
            name: header.printTwo,
            purpose: said.two,
            take: () => printed("short"),
          },
          { name: header.printAll, purpose: said.all, take: () => printed("whole") },
          {
            name: `${name}-map.png`,
            purpose: said.picture,
            take: async () => saveFile(`${name}-map.png`, await mapPicture()),
          },
        ]}
      />
      <Group
        title={said.tables}
        items={[
          made("results", "passes.csv", said.passes),
          made("results", "row-units.csv", said.rows),
          made("results", "soil-zones.csv", said.soils),
        ]}
      />
      <Group
        title={said.forMap}
        items={[
          made("results", "findings.geojson", said.outlines),
          made("results", "cells.geojson", said.cells),
        ]}
      />
      <Group
        title={said.toCount}
        items={[
          made("scouting", "scout.html", said.sheets),
          made("scouting", "scout.gpx", said.spots),
          made("scouting", "scout.csv", said.countForm),
          made("scouting", "scout-digs.csv", said.digForm),
          made("scouting", "scout.geojson", said.spotsMap),
        ]}
      />
      <Group
        title={said.forPlanter}
        items={[
          {
            name: header.toSet,
            purpose: said.loads,
            take: () => {
              pane.value = "prescription";
              state.phoneView.value = "ledger";
              document.getElementById("menu-along")?.hidePopover();
            },
          },
        ]}
      />
      <Group
        title={said.later}
        items={[
          {
            name: said.session,
            purpose: said.sessionSaid,
            take: () => saveJson(`${name}.session.json`, sessionNow()),
          },
          {
            name: "field.json",
            purpose: said.manifest,
            take: () => saveJson("field.json", state.manifest.value),
          },
          ...(state.source.value === "files"
            ? [
                {
                  name: said.keep,
                  purpose: said.keepSaid,
                  take: keepOpenField,
                  done: said.keepDone,
                },
              ]
            : []),
          made("results", "findings.json", said.findings),
          made("everything", "everything.zip", said.everything),
        ]}
      />
      <p class="along-said small" role="status">
        {told.value}
      </p>
    </Menu>
  );
}

function Group({ title, items }: { title: string; items: readonly Item[] }) {
  return (
    <section class="along">
      <h2>{title}</h2>
      <ul>
        {items.map((item) => (
          <li key={item.name}>
            <button type="button" onClick={() => void taken(item)}>
              {item.name}
            </button>
            <span class="small"> {item.purpose}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}

async function taken({ name, take, done = "" }: Item): Promise<void> {
  told.value = texts.value.along.making(name);
  try {
    await take();
    told.value = done;
  } catch (error) {
    told.value = texts.value.along.failed(name, error instanceof Error ? error.message : String(error));
  }
}

function made(group: FileGroup, name: string, purpose: string): Item {
  return { name, purpose, take: async () => saveFile(name, await fileOf(group, name)) };
}

async function fileOf(group: FileGroup, name: string): Promise<Uint8Array> {
  const engine = engineAtWork();
  if (!engine) throw new Error(texts.value.along.noField);
  const template = group === "report" || group === "everything" ? await reportTemplate() : null;
  const { requestNow } = await import("../model/prescription-request.ts");
  const outcome = await engine.files({ ...requestNow(), group, template });
  if (!outcome.ok) throw new Error(outcome.trouble.message);
  const file = outcome.view.find((each) => each.name === name);
  if (!file) throw new Error(texts.value.along.none);
  return file.bytes;
}

async function reportTemplate(): Promise<string> {
  const answer = await fetch("report-template.html");
  if (!answer.ok) throw new Error(texts.value.along.noTemplate);
  return answer.text();
}

function printed(how: Printed): void {
  document.getElementById("menu-along")?.hidePopover();
  print(how);
}

async function mapPicture(): Promise<Blob> {
  const { pictureOfMap } = await import("../map/tools/map-picture.ts");
  return pictureOfMap();
}

/** A field's name as far as a file system takes it. */
function fileName(name: string): string {
  return (
    name
      .replaceAll(/[^\p{L}\p{N} _-]+/gu, "")
      .trim()
      .slice(0, 80) || "field"
  );
}

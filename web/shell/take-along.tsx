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

interface Item {
  name: string;
  /** What it is for, in a few words. */
  purpose: string;
  take: () => Promise<void> | void;
  /** Said afterwards, where nothing is saved that the browser itself shows. */
  done?: string;
}

/** What is being made or went wrong; empty for nothing. */
const said = signal("");

/** The page that read the files makes them; a report carries no worker and is a file already. */
export function TakeAlong() {
  const field = state.findingsDocument.value?.field;
  if (!field || state.manifest.value === null || state.phase.value.kind !== "ready") return null;
  const name = fileName(field.name);
  return (
    <Menu
      name="along"
      title="Take along"
      onOpen={() => {
        said.value = "";
      }}
    >
      <Group
        title="To read"
        items={[
          made("report", "report.html", "the whole report as one file, for any browser"),
          {
            name: "Print two pages",
            purpose: "what, cost, what to do and the map; or save as PDF in the window that opens",
            take: () => printed("short"),
          },
          { name: "Print all", purpose: "ledger, map and the part under it", take: () => printed("whole") },
          {
            name: `${name}-map.png`,
            purpose: "the map as it is shown, with legend, scale and north",
            take: async () => saveFile(`${name}-map.png`, await mapPicture()),
          },
        ]}
      />
      <Group
        title="Tables"
        items={[
          made("results", "passes.csv", "passes by soil"),
          made("results", "row-units.csv", "row units, by soil too"),
          made("results", "soil-zones.csv", "soils over the whole field"),
        ]}
      />
      <Group
        title="For a map program"
        items={[
          made("results", "findings.geojson", "outlines of the findings"),
          made("results", "cells.geojson", "the field in pieces of about 12 m, with figures"),
        ]}
      />
      <Group
        title="To count next"
        items={[
          made("scouting", "scout.html", "sheets to print and fill in"),
          made("scouting", "scout.gpx", "the spots for a hand-held receiver or phone"),
          made("scouting", "scout.csv", "form for the counts; opens here again when filled in"),
          made("scouting", "scout-digs.csv", "form for the digs"),
          made("scouting", "scout.geojson", "the spots for a map program"),
        ]}
      />
      <Group
        title="For the planter"
        items={[
          {
            name: "What to set",
            purpose: "the loads, and under them the files for the machine and the cab",
            take: () => {
              pane.value = "prescription";
              state.phoneView.value = "ledger";
              document.getElementById("menu-along")?.hidePopover();
            },
          },
        ]}
      />
      <Group
        title="To go on with later"
        items={[
          {
            name: "Save session",
            purpose: "choices and notes; your data stay in their own files",
            take: () => saveJson(`${name}.session.json`, sessionNow()),
          },
          {
            name: "field.json",
            purpose: "what each file is and what you answered; keep it beside the files",
            take: () => saveJson("field.json", state.manifest.value),
          },
          ...(state.source.value === "files"
            ? [
                {
                  name: "Keep in this browser",
                  purpose:
                    "the files themselves, on this computer only; the opening screen lists and forgets them",
                  take: keepOpenField,
                  done: "Kept. It opens again from the opening screen, which forgets it too.",
                },
              ]
            : []),
          made("results", "findings.json", "every figure, for other programs"),
          made(
            "everything",
            "everything.zip",
            "all files of this list that the field has, and the planter's",
          ),
        ]}
      />
      <p class="along-said small" role="status">
        {said.value}
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
  said.value = `Making ${name}\u2026`;
  try {
    await take();
    said.value = done;
  } catch (error) {
    said.value = `${name}: not done: ${error instanceof Error ? error.message : String(error)}`;
  }
}

function made(group: FileGroup, name: string, purpose: string): Item {
  return { name, purpose, take: async () => saveFile(name, await fileOf(group, name)) };
}

async function fileOf(group: FileGroup, name: string): Promise<Uint8Array> {
  const engine = engineAtWork();
  if (!engine) throw new Error("no field is open");
  const template = group === "report" || group === "everything" ? await reportTemplate() : null;
  const { requestNow } = await import("../model/prescription-request.ts");
  const outcome = await engine.files({ ...requestNow(), group, template });
  if (!outcome.ok) throw new Error(outcome.trouble.message);
  const file = outcome.view.find((each) => each.name === name);
  if (!file) throw new Error("the field has none");
  return file.bytes;
}

async function reportTemplate(): Promise<string> {
  const answer = await fetch("report-template.html");
  if (!answer.ok) throw new Error("the report's template did not come with this page");
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

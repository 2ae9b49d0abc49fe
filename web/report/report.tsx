/** Entry of the report: one file with the findings in it, no network, no reader of field files. */
import { render } from "preact";
import { FARM_ENGLISH, writingIn } from "../../src/texts/language.ts";
import { followAddress } from "../model/address.ts";
import { followLook } from "../model/look.ts";
import { view } from "../model/prescription-state.ts";
import { reportData } from "../model/report-data.ts";
import * as state from "../model/state.ts";
import { groundFromCells } from "../protocol/ground.ts";
import { showTexts } from "../words/as-shown.ts";
import { automaticLanguage, nameLanguage } from "../words/language.ts";
import { followLanguage } from "../words/numbers.ts";
import { prepareMapWorker } from "./map-worker-inline.ts";
import { Report } from "./report-page.tsx";
import "../styles/report.css";

showTexts();
nameLanguage();
followLook();
const root = document.getElementById("report");
if (!root) throw new Error("the report has no place for its content");
const data = reportData((id) => document.getElementById(id)?.textContent ?? null);
if (data) {
  const { language, locale } = data.document.written ?? FARM_ENGLISH;
  // Its own words are in the language of its sentences.
  automaticLanguage.value = language;
  followLanguage(locale);
  prepareMapWorker();
  state.showAnswer({
    ...data,
    writing: writingIn("farm", language, locale),
    ground: groundFromCells(data.layers.cells),
  });
  view.value = data.prescription;
  window.document.title = `${data.document.field.name}: findings`;
}
render(<Report />, root);
if (data) followAddress();

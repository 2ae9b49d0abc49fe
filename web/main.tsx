/** Entry of the page. */
import { effect } from "@preact/signals";
import { render } from "preact";
import { fetchWords } from "./client/fetch-words.ts";
import { openFirstField } from "./client/open-field.ts";
import { followAddress } from "./model/address.ts";
import { followLook } from "./model/look.ts";
import { choices } from "./model/prescription-choices.ts";
import { keepChoices } from "./model/remembered.ts";
import { findingsDocument, wordsMissing, writing } from "./model/state.ts";
import { App } from "./shell/app.tsx";
import { showTexts } from "./words/as-shown.ts";
import { followDeviceLanguage, nameLanguage } from "./words/language.ts";
import { followLanguage } from "./words/numbers.ts";
import "./styles/app.css";

showTexts();
followDeviceLanguage();
followLanguage();
nameLanguage();
followLook();
const root = document.getElementById("app");
if (!root) throw new Error("the page has no place for the application");
render(<App />, root);
effect(() => {
  const name = findingsDocument.value?.field.name;
  document.title = name ? `${name}: Evenstand` : "Evenstand";
});
effect(() => {
  // Read here too, so that a choice made while the words of another are on their way is asked for as well.
  choices.value;
  writing.value;
  if (wordsMissing.value) fetchWords();
});
keepChoices();
followAddress();
openFirstField().catch(() => {
  // A page opened without a server (or one that is gone) begins empty.
});

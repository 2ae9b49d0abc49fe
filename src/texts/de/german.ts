/** German, as far as it goes; not yet read by anyone who grew up with it. */
import type { ENGLISH } from "../en/english.ts";
import type { Translation } from "../with-fallback.ts";
import { causeDefinitions, causeDetails, causePhrases, causeTitles } from "./causes.ts";
import { cautions } from "./cautions.ts";
import { checks } from "./checks.ts";
import { digSigns, findings } from "./findings.ts";
import { headline } from "./headline.ts";
import { lists } from "./lists.ts";
import { remedies } from "./remedies.ts";
import { sides } from "./sides.ts";
import { countedNames, variableNames, variableShortNames } from "./variables.ts";

export const GERMAN: Translation<typeof ENGLISH> = {
  causeTitles,
  causePhrases,
  causeDefinitions,
  causeDetails,
  cautions,
  checks,
  countedNames,
  digSigns,
  findings,
  headline,
  lists,
  remedies,
  sides,
  variableNames,
  variableShortNames,
};

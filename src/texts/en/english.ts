/** All sentences of the library, by topic. English is the language that holds every one of them. */
import { causeDefinitions, causeDetails, causePhrases, causeTitles } from "./causes.ts";
import { cautions } from "./cautions.ts";
import { checks } from "./checks.ts";
import { digSigns, findings } from "./findings.ts";
import { headline } from "./headline.ts";
import { lists } from "./lists.ts";
import { remedies } from "./remedies.ts";
import { sides } from "./sides.ts";
import { countedNames, variableNames, variableShortNames } from "./variables.ts";

export const ENGLISH = {
  causeTitles,
  causePhrases,
  causeDefinitions,
  causeDetails,
  cautions,
  checks,
  digSigns,
  findings,
  headline,
  lists,
  remedies,
  sides,
  countedNames,
  variableNames,
  variableShortNames,
};

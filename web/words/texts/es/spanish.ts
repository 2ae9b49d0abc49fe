/** The page in Spanish, as far as it is translated. Not checked by a native speaker. */
import type { Translation } from "../../../../src/texts/with-fallback.ts";
import type { ENGLISH } from "../en/english.ts";
import { along } from "./along.ts";
import { answers } from "./answers.ts";
import { dock } from "./dock.ts";
import { finding } from "./finding.ts";
import { header } from "./header.ts";
import { ledger } from "./ledger.ts";
import { map } from "./map.ts";
import { measured } from "./measured.ts";
import { money } from "./money.ts";
import { prescription } from "./prescription.ts";
import { roles } from "./roles.ts";
import { seasons } from "./seasons.ts";
import { settings } from "./settings.ts";
import { short } from "./short.ts";
import { sorting } from "./sorting.ts";
import { tables } from "./tables.ts";
import { variables } from "./variables.ts";
import { variablesMeant } from "./variables-meant.ts";
import { welcome } from "./welcome.ts";
import { work } from "./work.ts";

export const SPANISH: Translation<typeof ENGLISH> = {
  along,
  answers,
  dock,
  finding,
  header,
  ledger,
  map,
  measured,
  money,
  prescription,
  roles,
  seasons,
  settings,
  short,
  sorting,
  tables,
  variables,
  variablesMeant,
  welcome,
  work,
};

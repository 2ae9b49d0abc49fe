/** The page in English, by topic: what every other language falls back to. */
import { along } from "./along.ts";
import { dock } from "./dock.ts";
import { finding } from "./finding.ts";
import { header } from "./header.ts";
import { ledger } from "./ledger.ts";
import { roles } from "./roles.ts";
import { settings } from "./settings.ts";
import { sorting } from "./sorting.ts";
import { welcome } from "./welcome.ts";
import { work } from "./work.ts";

export const ENGLISH = { along, dock, finding, header, ledger, roles, settings, sorting, welcome, work };

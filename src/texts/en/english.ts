/** All sentences of the library, by topic. English is the language that holds every one of them. */
import { lists } from "./lists.ts";

export const ENGLISH = { lists };

// `node inspect-measured.mjs FILE`: runs `evenstand inspect FILE` of the built command in this process and prints its exit
// code, its last message, the largest memory of the process (MiB) and the processor seconds it took.
import { run } from "../../../dist/src/cli/run.js";

let messages = "";
const code = await run(["inspect", process.argv[2]], {
  workingFolder: process.cwd(),
  environment: {},
  out: () => {},
  err: (text) => {
    messages += text;
  },
  outIsTerminal: false,
  errIsTerminal: false,
  columns: null,
  stop: new AbortController().signal,
});
const { user, system } = process.cpuUsage();
process.stdout.write(
  JSON.stringify({
    code,
    message: messages.trim().slice(0, 300),
    peakMiB: process.resourceUsage().maxRSS / 1024,
    seconds: (user + system) / 1e6,
  }),
);

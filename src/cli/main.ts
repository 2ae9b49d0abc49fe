#!/usr/bin/env node
/** The command `evenstand`: the only place that reads the process and sets its exit code. */
import process from "node:process";
import { run } from "./run.ts";
import type { Io } from "./terminal/io.ts";

/** Ends on an interrupt. Only for a command that asks for it: the others are simply ended by the system. */
function stopOnInterrupt(): AbortSignal {
  const stop = new AbortController();
  for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, () => stop.abort());
  return stop.signal;
}

// A reader that closes early (a pager, head) is no fault of ours.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code !== "EPIPE") throw error;
});

const io: Io = {
  workingFolder: process.cwd(),
  environment: process.env,
  out: (text) => void process.stdout.write(text),
  err: (text) => void process.stderr.write(text),
  outIsTerminal: process.stdout.isTTY === true,
  errIsTerminal: process.stderr.isTTY === true,
  columns: process.stdout.columns ?? null,
  get stop() {
    return stopOnInterrupt();
  },
};

// Set, not exit(): output still on its way to a pipe is written first.
process.exitCode = await run(process.argv.slice(2), io);

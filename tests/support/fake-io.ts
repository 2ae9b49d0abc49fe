import type { Io } from "../../src/cli/terminal/io.ts";

export interface FakeIo extends Io {
  /** Everything written so far. */
  readonly written: { out: string; err: string };
}

/** An Io that keeps what is written; a pipe unless `terminal`. */
export function fakeIo(workingFolder: string, changes: Partial<Io> & { terminal?: boolean } = {}): FakeIo {
  const { terminal = false, ...rest } = changes;
  const written = { out: "", err: "" };
  return {
    workingFolder,
    environment: {},
    out: (text) => {
      written.out += text;
    },
    err: (text) => {
      written.err += text;
    },
    outIsTerminal: terminal,
    errIsTerminal: terminal,
    columns: terminal ? 80 : null,
    stop: new AbortController().signal,
    ...rest,
    written,
  };
}

/**
 * Talks to a Chromium of its own over a pipe, by the DevTools protocol: JSON messages that end in a NUL byte,
 * written to file descriptor 3 of the browser and read from 4. No port is opened.
 */
import { spawn } from "node:child_process";
import type { Readable, Writable } from "node:stream";

const ARGUMENTS = [
  "--headless",
  "--remote-debugging-pipe",
  "--no-first-run",
  "--no-default-browser-check",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-extensions",
  "--disable-sync",
  // Drawn by the processor: the same on a machine without a graphics card.
  "--use-gl=angle",
  "--use-angle=swiftshader",
  "--enable-unsafe-swiftshader",
];

export type Answer = Record<string, unknown>;

export interface BrowserTalk {
  /** Rejects with the browser's own words where it cannot do it, and when the browser ends. */
  ask(method: string, parameters?: object, sessionId?: string): Promise<Answer>;
  end(): Promise<void>;
}

/** @param profileFolder an empty folder the browser may write into. */
export function talkToBrowser(program: string, profileFolder: string): BrowserTalk {
  // Chromium refuses to run as root with its sandbox on; all it opens is our own file.
  const asRoot = process.getuid?.() === 0 ? ["--no-sandbox"] : [];
  const child = spawn(program, [...ARGUMENTS, ...asRoot, `--user-data-dir=${profileFolder}`, "about:blank"], {
    stdio: ["ignore", "ignore", "ignore", "pipe", "pipe"],
  });
  const waiting = new Map<number, { resolve(answer: Answer): void; reject(error: Error): void }>();
  const fail = (error: Error) => {
    for (const each of waiting.values()) each.reject(error);
    waiting.clear();
    ended = error;
  };
  let ended: Error | null = null;
  let last = 0;
  child.on("error", fail);
  const closed = new Promise<void>((resolve) => {
    child.on("close", (code) => {
      fail(new Error(`the browser ended${code === null ? "" : ` with code ${code}`}`));
      resolve();
    });
    child.on("error", () => resolve());
  });
  const toBrowser = child.stdio[3] as Writable;
  // A pipe breaks where the browser ends: how it ended is said once that is known.
  toBrowser.on("error", () => child.kill());
  readMessages(child.stdio[4] as Readable, ({ id, result, error }) => {
    const asked = typeof id === "number" ? waiting.get(id) : undefined;
    if (!asked) return;
    waiting.delete(id as number);
    if (error) asked.reject(new Error((error as { message?: string }).message ?? "refused"));
    else asked.resolve((result ?? {}) as Answer);
  });
  return {
    ask: (method, params = {}, sessionId) =>
      new Promise((resolve, reject) => {
        if (ended) return reject(ended);
        const id = ++last;
        waiting.set(id, { resolve, reject });
        toBrowser.write(`${JSON.stringify({ id, method, params, sessionId })}\0`);
      }),
    async end() {
      child.kill();
      await closed;
    },
  };
}

function readMessages(from: Readable, take: (message: Answer) => void): void {
  let kept: Buffer[] = [];
  from.on("data", (chunk: Buffer) => {
    let start = 0;
    for (let end = chunk.indexOf(0); end >= 0; end = chunk.indexOf(0, start)) {
      take(JSON.parse(Buffer.concat([...kept, chunk.subarray(start, end)]).toString("utf8")) as Answer);
      kept = [];
      start = end + 1;
    }
    kept.push(chunk.subarray(start));
  });
  from.on("error", () => {});
}

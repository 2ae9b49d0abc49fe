/** The pool of processes with tasks that hang, break down or take too much memory. */
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { isRunning } from "../../src/cli/files/running-process.ts";
import { type Outcome, type PoolOptions, runPool } from "../../src/cli/season/worker-pool.ts";

interface Task {
  name: string;
  do?: "hang" | "crash" | "exit" | "fill" | "keep";
  ms?: number;
  mebibytes?: number;
}
type Answer = { name: string; process: number };

const options: PoolOptions = {
  entry: fileURLToPath(new URL("./support/fake-worker.mjs", import.meta.url)),
  workers: 2,
  singleThreaded: true,
  timeLimitMs: null,
  memoryLimitBytes: null,
};

async function run(tasks: Task[], changes: Partial<PoolOptions> = {}, stop = new AbortController().signal) {
  const ends = new Map<string, Outcome<Answer>>();
  await runPool<Task, Answer>(
    tasks,
    { ...options, ...changes },
    ({ name }, outcome) => {
      expect(ends.has(name)).toBe(false);
      ends.set(name, outcome);
    },
    stop,
  );
  return ends;
}

describe("a pool of workers", () => {
  it("works through every task once, with no more processes than asked for", async () => {
    const ends = await run(Array.from({ length: 12 }, (_, k) => ({ name: `task ${k}` })));
    expect(ends.size).toBe(12);
    const processes = [...ends.values()].map((end) => (end.kind === "answer" ? end.answer.process : 0));
    expect(new Set(processes).size).toBeLessThanOrEqual(2);
    // They end by themselves once nobody speaks to them.
    await expect.poll(() => processes.filter(isRunning), { timeout: 120_000 }).toEqual([]);
  });

  it("ends a task that hangs at the limit of time, and one that breaks down, and goes on", async () => {
    const ends = await run(
      [
        { name: "a" },
        { name: "hangs", do: "hang" },
        { name: "crashes", do: "crash" },
        { name: "exits", do: "exit" },
        { name: "b" },
        { name: "c" },
      ],
      { timeLimitMs: 8000 },
    );
    expect(ends.get("hangs")).toMatchObject({ kind: "ended", why: "time" });
    expect(ends.get("crashes")).toMatchObject({ kind: "ended", why: "crash" });
    expect(ends.get("exits")).toMatchObject({ kind: "ended", why: "crash" });
    expect((ends.get("exits") as { detail: string }).detail).toBe("exit code 7: Error: it broke");
    for (const name of ["a", "b", "c"]) expect(ends.get(name)!.kind).toBe("answer");
  });

  it.skipIf(process.platform === "win32")("ends a task that takes too much memory", async () => {
    const ends = await run([{ name: "a" }, { name: "fills", do: "fill", mebibytes: 400 }, { name: "b" }], {
      memoryLimitBytes: 250 << 20,
    });
    expect(ends.get("fills")).toMatchObject({ kind: "ended", why: "memory" });
    expect(ends.get("a")!.kind).toBe("answer");
    expect(ends.get("b")!.kind).toBe("answer");
  });

  it.skipIf(process.platform === "win32")(
    "does not hold what an earlier task has left against the next one",
    async () => {
      const ends = await run(
        [
          { name: "leaves", do: "keep", mebibytes: 150 },
          { name: "next", do: "fill", mebibytes: 100 },
        ],
        { workers: 1, memoryLimitBytes: 260 << 20 },
      );
      expect(ends.get("leaves")!.kind).toBe("answer");
      expect(ends.get("next")!.kind).toBe("answer");
    },
  );

  it("stops when told to, and when the caller throws, and leaves no process behind", async () => {
    const stop = new AbortController();
    setTimeout(() => stop.abort(), 400);
    const ends = await run(
      Array.from({ length: 50 }, (_, k) => ({ name: `task ${k}`, ms: 100 })),
      {},
      stop.signal,
    );
    expect(ends.size).toBeLessThan(50);
    await expect(
      runPool<Task, Answer>(
        [{ name: "a" }, { name: "b" }],
        options,
        () => {
          throw new Error("no room");
        },
        new AbortController().signal,
      ),
    ).rejects.toThrow("no room");
  });

  it("gives up where the processes do not start", async () => {
    await expect(run([{ name: "a" }], { entry: "/nowhere/worker.mjs" })).rejects.toThrow("do not start");
  });
});

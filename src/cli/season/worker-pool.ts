/**
 * Processes that work on tasks, one at a time each, with limits of time and memory for a task. A task that goes beyond them,
 * or whose process breaks down, is named with the reason; the others go on. Knows nothing of fields.
 */
import { type ChildProcess, execFile, fork } from "node:child_process";
import { readFile } from "node:fs/promises";
import process from "node:process";

export interface PoolOptions {
  /** Module the processes run; answers `{ ready: true }` once, then `{ answer, rssBytes }` to each message. */
  entry: string;
  workers: number;
  /** True where every core has a process of its own: then helper threads of each only get in the way of the others. */
  singleThreaded: boolean;
  /** Longest time for a task, ms; null for none. */
  timeLimitMs: number | null;
  /** Most memory of the process while it works on a task, bytes; null for none. */
  memoryLimitBytes: number | null;
}

export type Outcome<Answer> =
  | { kind: "answer"; answer: Answer }
  | { kind: "ended"; why: "time" | "memory" | "crash"; detail: string };

interface Worker<Task> {
  child: ChildProcess;
  ready: boolean;
  /** What it works on. */
  task: Task | null;
  /** Tasks it has ended. */
  done: number;
  timer: NodeJS.Timeout | null;
  killedFor: "time" | "memory" | null;
  /** End of what it wrote to standard error. */
  said: string;
}

const LOOK_EVERY_MS = 500;
/** A process that holds more than this after a task is replaced, so that memory stays flat over a season. */
const LARGEST_IDLE_BYTES = 1 << 30;
/** A process that ends so often before it is ready will never be. */
const MOST_STILLBORN = 3;

/**
 * Works through the tasks in the order given.
 * @param onEnd called once for each task, in the order in which they end
 * @param stop ends the work: processes are killed, tasks not begun are left
 * @throws {Error} where the processes cannot be started
 */
export async function runPool<Task, Answer>(
  tasks: readonly Task[],
  options: PoolOptions,
  onEnd: (task: Task, outcome: Outcome<Answer>) => void,
  stop: AbortSignal,
): Promise<void> {
  const waiting = [...tasks];
  /** Tasks that ran out of memory in a process that had worked before: they get one of their own. */
  const again = new Set<Task>();
  const workers = new Set<Worker<Task>>();
  let stillborn = 0;

  await new Promise<void>((resolve, reject) => {
    const finish = (error?: unknown): void => {
      clearInterval(looking);
      stop.removeEventListener("abort", onStop);
      for (const { child, timer } of workers) {
        if (timer) clearTimeout(timer);
        child.removeAllListeners();
        child.kill("SIGKILL");
      }
      workers.clear();
      if (error === undefined) resolve();
      else reject(error);
    };
    const onStop = (): void => finish();
    /** What a caller throws ends the work; nothing may go on behind its back. */
    const guarded = (work: () => void): void => {
      try {
        work();
      } catch (error) {
        finish(error);
      }
    };

    const give = (worker: Worker<Task>): void => {
      const task = waiting.shift();
      if (task === undefined) {
        workers.delete(worker);
        worker.child.removeAllListeners();
        worker.child.disconnect();
        if (workers.size === 0) finish();
        return;
      }
      worker.task = task;
      if (options.timeLimitMs !== null) {
        worker.timer = setTimeout(() => kill(worker, "time"), options.timeLimitMs);
      }
      worker.child.send(task as object);
    };

    const kill = (worker: Worker<Task>, why: "time" | "memory"): void => {
      worker.killedFor ??= why;
      worker.child.kill("SIGKILL");
    };

    const release = (worker: Worker<Task>): Task | null => {
      if (worker.timer) clearTimeout(worker.timer);
      const { task } = worker;
      worker.timer = null;
      worker.task = null;
      return task;
    };

    const start = (): void => {
      const heap = options.memoryLimitBytes;
      const child = fork(options.entry, [], {
        execArgv: [
          ...(options.singleThreaded ? ["--single-threaded"] : []),
          ...(heap === null ? [] : [`--max-old-space-size=${Math.ceil(heap / (1 << 20))}`]),
        ],
        stdio: ["ignore", "ignore", "pipe", "ipc"],
        serialization: "json",
      });
      const worker: Worker<Task> = {
        child,
        ready: false,
        task: null,
        done: 0,
        timer: null,
        killedFor: null,
        said: "",
      };
      workers.add(worker);
      child.stderr!.setEncoding("utf8");
      child.stderr!.on("data", (text: string) => {
        worker.said = (worker.said + text).slice(-4000);
      });
      child.on("message", (message: { ready?: true; answer?: Answer; rssBytes?: number }) =>
        guarded(() => {
          if (message.ready) {
            worker.ready = true;
            give(worker);
            return;
          }
          const task = release(worker);
          worker.done++;
          if (task !== null) onEnd(task, { kind: "answer", answer: message.answer as Answer });
          if (!workers.has(worker)) return;
          const most = Math.min(
            LARGEST_IDLE_BYTES,
            (options.memoryLimitBytes ?? Number.POSITIVE_INFINITY) / 2,
          );
          if ((message.rssBytes ?? 0) > most && waiting.length > 0) {
            workers.delete(worker);
            child.removeAllListeners();
            child.disconnect();
            start();
          } else give(worker);
        }),
      );
      child.on("error", (error) => finish(error));
      // "close" comes after all that was said has been read.
      child.on("close", (code, signal) =>
        guarded(() => {
          workers.delete(worker);
          const task = release(worker);
          if (!worker.ready && worker.killedFor === null) {
            stillborn++;
            if (stillborn >= MOST_STILLBORN)
              throw new Error(
                `the worker processes do not start: ${lastLine(worker.said) || `code ${code}`}`,
              );
          }
          if (task !== null) {
            const why = worker.killedFor ?? (/heap out of memory/i.test(worker.said) ? "memory" : "crash");
            if (why === "memory" && worker.done > 0 && !again.has(task)) {
              again.add(task);
              waiting.unshift(task);
            } else {
              const detail = signal ? `signal ${signal}` : `exit code ${code}`;
              onEnd(task, {
                kind: "ended",
                why,
                detail: [detail, lastLine(worker.said)].filter(Boolean).join(": "),
              });
            }
          }
          if (waiting.length > 0) start();
          else if (workers.size === 0) finish();
        }),
      );
    };

    const looking = setInterval(() => {
      const most = options.memoryLimitBytes;
      if (most === null) return;
      for (const worker of workers) {
        const { task } = worker;
        if (task === null) continue;
        void residentBytes(worker.child.pid!).then((bytes) => {
          if (bytes !== null && bytes > most && worker.task === task) kill(worker, "memory");
        });
      }
    }, LOOK_EVERY_MS);
    stop.addEventListener("abort", onStop);
    if (stop.aborted || tasks.length === 0) {
      finish();
      return;
    }
    for (let k = 0; k < Math.min(options.workers, tasks.length); k++) start();
  });
}

function lastLine(text: string): string {
  const lines = text.trim().split("\n");
  const telling = lines.find((line) => /error|out of memory/i.test(line));
  return (telling ?? lines.at(-1) ?? "").trim().slice(0, 200);
}

/** Memory a process holds; null where the system does not tell (Windows), or it is gone. */
async function residentBytes(pid: number): Promise<number | null> {
  if (process.platform === "win32") return null;
  if (process.platform === "linux") {
    const status = await readFile(`/proc/${pid}/status`, "utf8").catch(() => "");
    const found = /^VmRSS:\s+(\d+) kB/m.exec(status);
    return found ? Number(found[1]) * 1024 : null;
  }
  return new Promise((resolve) => {
    execFile("ps", ["-o", "rss=", "-p", String(pid)], (error, text) =>
      resolve(error ? null : Number(text.trim()) * 1024),
    );
  });
}

/** One worker a field: it is started with the field's files and stopped with the field. */
import { type Remote, wrap } from "comlink";
import type { Engine } from "../protocol/protocol.ts";

export interface Work {
  engine: Remote<Engine>;
  /** Ends it, whatever it is doing; what it was asked is never answered. */
  stop(): void;
}

/** @param onFault told when the worker cannot start or breaks down. */
export function startWork(onFault: (message: string) => void): Work {
  const worker = new Worker(new URL("../worker/engine.worker.ts", import.meta.url), { type: "module" });
  worker.addEventListener("error", (event) =>
    onFault(event.message || "The worker of the page could not start."),
  );
  return { engine: wrap<Engine>(worker), stop: () => worker.terminate() };
}

/** Progress on a terminal, and processor time per stage. */
import process from "node:process";
import type { Io } from "./io.ts";
import { erasedLine } from "./printed.ts";

const BAR_WIDTH = 24;

/** Names the stages of a command as they begin; draws a bar on a terminal and nothing elsewhere. */
export class StageClock {
  readonly #io: Io;
  readonly #stages: readonly string[];
  readonly #seconds: [stage: string, seconds: number][] = [];
  #drawn = false;
  #current: { stage: string; startedAt: NodeJS.CpuUsage } | null = null;

  constructor(io: Io, stages: readonly string[]) {
    this.#io = io;
    this.#stages = stages;
  }

  /** Ends the stage that runs and begins the next. */
  begin(stage: string): void {
    this.#endCurrent();
    this.#current = { stage, startedAt: process.cpuUsage() };
    this.#draw(stage);
  }

  /** Ends the last stage and takes the bar away; a second call does nothing. */
  end(): void {
    this.#endCurrent();
    if (this.#drawn) this.#io.err(erasedLine());
    this.#drawn = false;
  }

  /** One line a stage, processor seconds (user and system), and their sum. */
  timings(): string {
    const rows = this.#seconds.map(([stage, seconds]) => timingLine(stage, seconds));
    const total = this.#seconds.reduce((sum, [, seconds]) => sum + seconds, 0);
    return `${["processor time, s", ...rows, timingLine("total", total)].join("\n")}\n`;
  }

  #endCurrent(): void {
    if (!this.#current) return;
    const { user, system } = process.cpuUsage(this.#current.startedAt);
    this.#seconds.push([this.#current.stage, (user + system) / 1e6]);
    this.#current = null;
  }

  #draw(stage: string): void {
    if (!this.#io.errIsTerminal) return;
    this.#drawn = true;
    const done = Math.max(0, this.#stages.indexOf(stage));
    const filled = Math.round((done / this.#stages.length) * BAR_WIDTH);
    const bar = "#".repeat(filled) + ".".repeat(BAR_WIDTH - filled);
    this.#io.err(`${erasedLine()}[${bar}] ${stage}`);
  }
}

function timingLine(stage: string, seconds: number): string {
  return `  ${stage.padEnd(12)}${seconds.toFixed(2).padStart(8)}`;
}

/** How far a season's run is: a bar with the time left on a terminal, a line a field elsewhere. */
import type { Io } from "../terminal/io.ts";
import { erasedLine } from "../terminal/printed.ts";

const BAR_WIDTH = 24;

export class SeasonProgress {
  readonly #io: Io;
  readonly #fields: number;
  readonly #bytes: number;
  readonly #begun = performance.now();
  #ended = 0;
  /** Bytes of the fields that are ended, and of those that took work. */
  #bytesEnded = 0;
  #bytesWorked = 0;
  #drawn = false;

  /** @param bytes size of all fields' files: what the time left is told by */
  constructor(io: Io, fields: number, bytes: number) {
    this.#io = io;
    this.#fields = fields;
    this.#bytes = bytes;
    this.#draw();
  }

  /** A field has ended. */
  ended(name: string, what: string, bytes: number, worked: boolean): void {
    this.#ended++;
    this.#bytesEnded += bytes;
    if (worked) this.#bytesWorked += bytes;
    if (this.#io.errIsTerminal) this.#draw();
    else this.#io.err(`[${this.#ended}/${this.#fields}] ${name}: ${what}${this.#leftText("; ")}\n`);
  }

  /** Takes the bar away. */
  end(): void {
    if (this.#drawn) this.#io.err(erasedLine());
    this.#drawn = false;
  }

  #draw(): void {
    if (!this.#io.errIsTerminal) return;
    this.#drawn = true;
    const filled = Math.round((this.#ended / Math.max(1, this.#fields)) * BAR_WIDTH);
    const bar = "#".repeat(filled) + ".".repeat(BAR_WIDTH - filled);
    this.#io.err(`${erasedLine()}[${bar}] ${this.#ended} of ${this.#fields} fields${this.#leftText(", ")}`);
  }

  #leftText(lead: string): string {
    if (this.#bytesWorked === 0 || this.#ended >= this.#fields) return "";
    const left = Math.max(0, this.#bytes - this.#bytesEnded);
    const seconds = ((performance.now() - this.#begun) / 1000 / this.#bytesWorked) * left;
    return `${lead}about ${durationText(seconds)} left`;
  }
}

function durationText(seconds: number): string {
  if (seconds < 90) return `${Math.ceil(seconds)} s`;
  if (seconds < 90 * 60) return `${Math.round(seconds / 60)} min`;
  return `${(seconds / 3600).toFixed(1)} h`;
}

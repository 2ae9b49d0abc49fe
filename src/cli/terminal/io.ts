/** What a command may touch of the world besides files: injected, so that tests call commands as functions. */
export interface Io {
  /** Folder that relative paths on the command line start from. */
  workingFolder: string;
  environment: Readonly<Record<string, string | undefined>>;
  /** Results: standard output. */
  out(text: string): void;
  /** Progress and messages: standard error. */
  err(text: string): void;
  /** True where standard output, or standard error, is a terminal. */
  outIsTerminal: boolean;
  errIsTerminal: boolean;
  /** Width of the terminal in columns, null when not a terminal. */
  columns: number | null;
  /** Ends a command that would run on (`open`); read once, by a command that heeds it. */
  readonly stop: AbortSignal;
}

/** True where colour and bold may be used: a terminal, and NO_COLOR (no-color.org) unset or empty. */
export function mayStyle(io: Io): boolean {
  return io.outIsTerminal && !io.environment.NO_COLOR && io.environment.TERM !== "dumb";
}

import type { Browser } from "playwright-core";

export interface LargeField {
  folder: string;
  files: string[];
}
export function largeField(folder: string, records: number): LargeField;
export function commandSeconds(command: string, field: LargeField, out: string): number;
export function pageFigures(
  browser: Browser,
  address: string,
  field: LargeField,
): Promise<{ mapSeconds: number; wholeSeconds: number; memoryMiB: number | null; panningMs: number }>;

/** How wide the ledger is and how high the part under the map, as the reader dragged them; kept between visits. */
import { signal } from "@preact/signals";

export type PaneName = "ledger" | "dock";

export interface PaneSize {
  /** CSS pixels; null as the page lays itself out. */
  size: number | null;
  shut: boolean;
}

export const AS_LAID_OUT: PaneSize = { size: null, shut: false };

export const paneSizes = signal<Readonly<Record<PaneName, PaneSize>>>({
  ledger: AS_LAID_OUT,
  dock: AS_LAID_OUT,
});

/** A part is never dragged narrower than `least`, nor so that the map keeps less than `mapKeeps`, CSS pixels. */
const LIMITS: Readonly<Record<PaneName, { least: number; mapKeeps: number }>> = {
  ledger: { least: 260, mapKeeps: 300 },
  dock: { least: 130, mapKeeps: 180 },
};

/** Dragged under this share of its least size a part shuts. */
const SHUTS_UNDER = 0.6;

/** The sizes a part may have on a page with `room` pixels for it and the map. */
export function sizesFor(name: PaneName, room: number): { least: number; most: number } {
  const { least, mapKeeps } = LIMITS[name];
  return { least, most: Math.max(least, room - mapKeeps) };
}

/** A part dragged to a size: held within its limits, or shut. */
export function dragged(name: PaneName, wanted: number, room: number): PaneSize {
  const { least, most } = sizesFor(name, room);
  if (wanted < SHUTS_UNDER * least) return { ...paneSizes.peek()[name], shut: true };
  return { size: Math.round(Math.min(Math.max(wanted, least), most)), shut: false };
}

export function setPane(name: PaneName, size: PaneSize): void {
  paneSizes.value = { ...paneSizes.peek(), [name]: size };
}

/** @returns the sizes as they lay out where the text says nothing usable. */
export function paneSizesOf(text: string | null): Record<PaneName, PaneSize> {
  const sizes = { ledger: AS_LAID_OUT, dock: AS_LAID_OUT };
  if (text === null) return sizes;
  try {
    const read = JSON.parse(text) as Partial<Record<PaneName, Partial<PaneSize>>>;
    for (const name of ["ledger", "dock"] as const) {
      const { size, shut } = read[name] ?? {};
      sizes[name] = {
        size: typeof size === "number" && Number.isFinite(size) ? size : null,
        shut: shut === true,
      };
    }
  } catch {
    // Kept by another version, or damaged.
  }
  return sizes;
}

/** What a field says about its down-force prescription, in inside units. */
import type { Moisture } from "./moisture.ts";

/** Choices by the names of the prescription's settings; only those the manifest makes. */
export interface PrescriptionChoices {
  settings: {
    moisture?: Moisture;
    channel?: "margin" | "added-force" | "pressure";
    minimumMarginN?: number;
    maximumMarginN?: number;
    largestStepN?: number;
    rateStepN?: number;
    system?: "air" | "hydraulic";
    lagS?: number;
    smallestAreaHa?: number;
    smallestWidthBars?: number;
    mostRates?: number;
    mostPolygons?: number;
    mostVertices?: number;
    proofStrips?: boolean;
    outsideMarginN?: number;
    lostPositionMarginN?: number;
    usableWeight?: { centreN: number; wingN: number; centreRowUnits: number; wingRowUnits: number };
    cylinder?: { pascalPerNewton: number; pascalAtNoForce: number; forceN: [number, number] };
    gridCellM?: number;
    flat?: boolean;
    allowUncovered?: boolean;
  };
  /** Loads last year's prescription asked for, N, by soil zone. */
  last: Readonly<Record<string, number>>;
}

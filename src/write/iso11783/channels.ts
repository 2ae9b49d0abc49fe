/**
 * The quantities of ISO 11783-11 that a down-force prescription can be written in: number (DDI), unit and how a
 * terminal shows it. The gauge-wheel load (margin) has no number in the data dictionary.
 */
import { PrescriptionError } from "../../errors.ts";
import type { Channel, Rates } from "../../prescription/prescription.ts";
import { PASCAL_PER_PSI } from "../../prescription/pressure.ts";
import type { UnitSystem } from "../../quantities/format.ts";
import { convert } from "../../quantities/units.ts";

export interface TaskChannel {
  quantity: Channel;
  /** Data dictionary identifier, four hexadecimal digits. */
  ddi: string;
  /** What is sent, a whole number of `unit`, greater than 0. */
  rawOf(rates: Rates): number;
  /** Unit of the raw number, and of the number shown to the driver with the factor from one to the other. */
  unit: string;
  shownUnit: string;
  /** What is sent, per row unit or for the system, in at most 24 letters. */
  shownTitle: string;
  shownPerRaw: number;
}

/** Largest number of a signed 32-bit value. */
const MOST = 2 ** 31 - 1;

/** ISO 11783-11 DDI 426, Setpoint Downforce as Force: N, resolution 1. */
const ADDED_FORCE = {
  quantity: "added-force",
  ddi: "01AA",
  unit: "N",
  shownTitle: "Down force a row unit",
} as const;
/** ISO 11783-11 DDI 365, Setpoint Downforce Pressure: Pa, resolution 1. */
const PRESSURE = {
  quantity: "pressure",
  ddi: "016D",
  unit: "Pa",
  shownTitle: "Down-force pressure",
} as const;

/**
 * The channel a task file is written in; the driver is shown pounds and psi, or where metric is chosen N and kPa.
 * @throws {PrescriptionError} for a margin, and where no channel is declared.
 */
export function taskChannel(channel: Channel | null, units: UnitSystem = "farm"): TaskChannel {
  const isFarm = units === "farm";
  const accepted = 'a channel "added-force" or "pressure"';
  switch (channel) {
    case "added-force":
      return {
        ...ADDED_FORCE,
        shownUnit: isFarm ? "lbf" : "N",
        shownPerRaw: isFarm ? convert(1, "N", "lbf") : 1,
        rawOf: ({ forceN }) => rawNumber(forceN, ADDED_FORCE.unit),
      };
    case "pressure":
      return {
        ...PRESSURE,
        shownUnit: isFarm ? "psi" : "kPa",
        shownPerRaw: isFarm ? 1 / PASCAL_PER_PSI : 0.001,
        rawOf: ({ pressurePa }) => rawNumber(pressurePa, PRESSURE.unit),
      };
    case "margin":
      throw new PrescriptionError(
        "no task file for a load on the gauge wheels (margin): the data dictionary of ISO 11783-11 has no number " +
          "for it, and written as added force it would be wrong by hundreds of pounds; use the cab sheet and the margin layer",
        { value: "margin", accepted },
      );
    case null:
      throw new PrescriptionError(
        "no task file: it is not declared which quantity the machine's channel takes; use the cab sheet and the margin layer",
        { accepted },
      );
  }
}

function rawNumber(value: number | null, unit: string): number {
  const raw = value === null ? Number.NaN : Math.round(value);
  if (!(raw > 0 && raw <= MOST))
    throw new PrescriptionError(
      `no task file: ${value === null ? "a rate is missing" : `the rate ${value} ${unit} cannot be sent`}; zero and lift are never written`,
      { value: String(value), accepted: `1 to ${MOST} ${unit}` },
    );
  return raw;
}

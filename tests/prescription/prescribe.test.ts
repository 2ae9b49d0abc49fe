/** The prescription of small invented fields, from the analysis to loads, words, limits and refusals. */
import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import { PrescriptionError } from "../../src/errors.ts";
import type { Analysis } from "../../src/findings/analysis.ts";
import { analyseField } from "../../src/jobs/analyse.ts";
import { defaultSettings, editRefusal, prescribe } from "../../src/jobs/prescribe.ts";
import { editLimits } from "../../src/prescription/edit-refusal.ts";
import type { Prescription, ZoneDecision } from "../../src/prescription/prescription.ts";
import { NEWTONS_PER_POUND_FORCE as LBF } from "../../src/quantities/units.ts";
import { buildField } from "../support/field-builder.ts";
import { makeField } from "../truth/prescription/worlds.ts";

/** A field of the simulated worlds whose clay was planted damp at 201 lb, silt at 193 lb, sand at 240 lb. */
const HEAVY = 20_003;

let analysis: Analysis;
let plain: Prescription;

beforeAll(async () => {
  analysis = await analyseField(makeField("trapezoid", HEAVY, 100).field);
  plain = prescribe(analysis, { moisture: "damp" });
});

function zone(prescription: Prescription, name: string): ZoneDecision {
  return prescription.decisions.find(({ soilZone }) => soilZone === name)!;
}

/** The analysis as it would be had the log no such column. */
function without(variable: "downForce" | "downForceMargin"): Analysis {
  const { log } = analysis.field;
  const { [variable]: _, ...values } = log.values;
  return { ...analysis, field: { ...analysis.field, log: { ...log, values } } };
}

function guard(prescription: Prescription, code: string) {
  return prescription.guards.find((entry) => entry.code === code)!;
}

describe("the decision", () => {
  it("lowers a load that pressed damp clay, by no more than two largest steps, and says so", () => {
    const clay = zone(plain, "Clay");
    expect(clay.outcome).toBe("change");
    expect(clay.loggedMoisture).toBe("damp");
    expect(clay.loggedMoistureFrom).toBe("rain before planting");
    expect(clay.currentMarginN! / LBF).toBeGreaterThan(180);
    expect(clay.best.damp.targetN).toBeLessThan(clay.currentMarginN! - 60 * LBF);
    expect(clay.prescribedN.damp).toBeLessThan(clay.currentMarginN!);
    expect(clay.currentMarginN! - clay.prescribedN.damp).toBeLessThanOrEqual(80 * LBF + 1e-6);
    expect(clay.currentMarginN! - clay.prescribedN.damp).toBeGreaterThan(70 * LBF);
    expect(clay.reason.split(/\. (?=[A-Z\d])/)).toHaveLength(3);
    expect(clay.reason).toContain("The step is held to 80 lb this season: expected");
    expect(clay.gainShare!.low).toBeGreaterThan(0);
    expect(clay.gainShare!.low).toBeLessThan(clay.gainShare!.estimate);
    expect(clay.grade).toBe("settled");
    expect(guard(plain, "largest-step").result).toBe("changed");
  });

  it("gives three loads that rise from damp over fit to dry ground by the starting bands", () => {
    const { best } = zone(plain, "Clay");
    expect((best.fit.targetN - best.damp.targetN) / LBF).toBeCloseTo(40, 6);
    expect((best.dry.targetN - best.fit.targetN) / LBF).toBeCloseTo(60, 6);
  });

  it("keeps every changed load within smallest and largest and never higher on damper ground, whatever is set", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 20, max: 150 }),
        fc.integer({ min: 10, max: 200 }),
        fc.integer({ min: 5, max: 120 }),
        fc.constantFrom("dry", "fit", "damp"),
        fc.integer({ min: 0, max: 400 }),
        (least, span, step, moisture, load) => {
          const made = prescribe(
            analysis,
            {
              moisture,
              minimumMarginN: least * LBF,
              maximumMarginN: (least + span) * LBF,
              largestStepN: step * LBF,
              rateStepN: 2 * LBF,
              proofStrips: false,
            },
            { Clay: load * LBF },
          );
          for (const { prescribedN, currentMarginN } of made.decisions) {
            const keptN = Math.round(currentMarginN! / (2 * LBF)) * 2 * LBF;
            for (const value of Object.values(prescribedN)) {
              // What is kept is today's, wherever that lies; limits bind what is changed.
              if (Math.abs(value - keptN) < LBF) continue;
              expect(value).toBeGreaterThanOrEqual(least * LBF - 1e-6);
              expect(value).toBeLessThanOrEqual((least + span) * LBF + 1e-6);
            }
            expect(prescribedN.damp).toBeLessThanOrEqual(prescribedN.fit + 1e-9);
            expect(prescribedN.fit).toBeLessThanOrEqual(prescribedN.dry + 1e-9);
          }
        },
      ),
      { numRuns: 12 },
    );
  });

  it("writes whole steps only", () => {
    for (const { prescribedN } of plain.decisions) {
      for (const load of Object.values(prescribedN)) {
        expect(load / (5 * LBF)).toBeCloseTo(Math.round(load / (5 * LBF)), 9);
      }
    }
  });

  it("is the same for the same input", () => {
    const again = prescribe({ ...analysis }, { moisture: "damp" });
    expect(JSON.stringify(again)).toBe(JSON.stringify(plain));
  });

  it("speaks metric where asked, with the same figures", () => {
    const metric = prescribe(analysis, { moisture: "damp" }, {}, { units: "metric" });
    expect(metric.decisions.map(({ prescribedN }) => prescribedN)).toEqual(
      plain.decisions.map(({ prescribedN }) => prescribedN),
    );
    const words = [
      ...metric.decisions.map(({ reason }) => reason),
      ...metric.guards.map((entry) => entry.words),
      metric.channel.formula,
    ].join(" ");
    expect(words).toContain(" N");
    expect(words).not.toMatch(/\d lb\b/);
  });

  it("covers the field and leaves no zero anywhere", () => {
    const area = plain.zones.reduce((sum, { areaHa }) => sum + areaHa, 0);
    expect(area).toBeGreaterThan(0.98 * plain.field.areaHa);
    for (const { rates } of plain.zones) {
      expect(rates.marginN).toBeGreaterThan(0);
      expect(rates.forceN).toBeGreaterThan(0);
    }
    expect(plain.defaults.outside.marginN).toBeGreaterThan(0);
    expect(plain.defaults.lostPosition.marginN).toBeGreaterThan(0);
  });

  it("keeps today's load and suggests a strip where nothing was counted", async () => {
    const { field } = makeField("trapezoid", HEAVY, 100);
    field.standCounts = null;
    const wide = { minimumMarginN: 20 * LBF, maximumMarginN: 350 * LBF };
    const uncounted = prescribe(await analyseField(field), { moisture: "damp", ...wide });
    for (const decision of uncounted.decisions) {
      expect(decision.outcome).toBe("no-evidence");
      expect(decision.grade).toBe("starting-point");
      expect(Math.abs(decision.prescribedN.damp - decision.currentMarginN!)).toBeLessThanOrEqual(
        2.5 * LBF + 1e-6,
      );
      expect(decision.reason).toContain("our judgement");
    }
    expect(
      uncounted.advice.filter(({ kind }) => kind === "test-strip").map(({ soilZone }) => soilZone),
    ).toEqual(["Sandy loam", "Silt loam", "Clay"]);
    expect(uncounted.zones.every(({ proofStrip }) => !proofStrip)).toBe(true);
  });

  it("makes one zone of a field without a soil map", async () => {
    const { field } = makeField("trapezoid", HEAVY, 100);
    field.soilZones = null;
    const { decisions, zones } = prescribe(await analyseField(field));
    expect(decisions.map(({ soilZone }) => soilZone)).toEqual(["whole field"]);
    expect(zones.length).toBeGreaterThan(0);
  });

  it("shows last year's advice beside last year's load", () => {
    const prescription = { settings: { largestStepN: 20 * LBF }, last: { Clay: 90 * LBF, Peat: 70 * LBF } };
    const made = prescribe({ ...analysis, field: { ...analysis.field, prescription } }, { moisture: "damp" });
    expect(zone(made, "Clay").lastAdvisedN).toBe(90 * LBF);
    expect(zone(made, "Silt loam").lastAdvisedN).toBeNull();
    expect(made.notes.map(({ value }) => value)).toContain("Peat");
    expect(made.settings.largestStepN).toBe(20 * LBF);
  });
});

describe("the channel", () => {
  it("is none until the user says what the machine takes, and says why", () => {
    expect(plain.channel.quantity).toBeNull();
    expect(plain.channel.reason).toContain("nobody has said");
  });

  it("takes force as today's force + target - today's load, with this field's numbers", () => {
    const made = prescribe(analysis, { moisture: "damp", channel: "added-force" });
    expect(made.channel.quantity).toBe("added-force");
    const clay = zone(made, "Clay");
    const force = clay.currentForceN! + clay.prescribedN.damp - clay.currentMarginN!;
    const [today, target, load, sum] = [
      clay.currentForceN!,
      clay.prescribedN.damp,
      clay.currentMarginN!,
      force,
    ].map((newtons) => Math.round(newtons / LBF));
    expect(made.channel.formula).toContain(`Clay: ${today} + ${target} - ${load} = ${sum} lb`);
    const piece = made.zones.find(({ soilZones, proofStrip }) => soilZones.includes("Clay") && !proofStrip)!;
    expect(Math.abs(piece.rates.forceN! - force)).toBeLessThanOrEqual(2.5 * LBF + 1e-6);
  });

  it("is refused where the log has no added force, or no cylinder is given for a pressure", () => {
    const pressure = prescribe(analysis, { channel: "pressure" });
    expect(pressure.channel.quantity).toBeNull();
    expect(pressure.channel.reason).toContain("cylinder");
    const made = prescribe(without("downForce"), { channel: "added-force" });
    expect(made.channel.quantity).toBeNull();
    expect(made.channel.reason).toContain("no added force");
    expect(made.zones.every(({ rates }) => rates.forceN === null)).toBe(true);
  });
});

describe("the limits", () => {
  it("leave the lift of the bar unchecked and say so where the weight is not known", () => {
    expect(guard(plain, "bar-lift")).toMatchObject({ result: "unchecked" });
    expect(guard(plain, "bar-lift").words).toContain("none is assumed");
  });

  it("hold the force below what the bar can hold down", async () => {
    const light = makeField("trapezoid", 20_010, 100);
    const usableWeight = { centreN: 8 * 160 * LBF, wingN: 8 * 170 * LBF, centreRowUnits: 8, wingRowUnits: 8 };
    const made = prescribe(await analyseField(light.field), { usableWeight, minimumMarginN: 20 * LBF });
    expect(guard(made, "bar-lift").result).toBe("changed");
    for (const { prescribedN, currentMarginN } of made.decisions) {
      expect(prescribedN.fit - currentMarginN!).toBeLessThanOrEqual(10 * LBF + 2.5 * LBF);
    }
  });

  it("refuse settings that cannot be, naming value and limits", () => {
    expect(() => prescribe(analysis, { mostRates: 17 })).toThrow(
      /Different loads at most: 17 cannot be; .*1 to 16/,
    );
    expect(() => prescribe(analysis, { minimumMarginN: 0 })).toThrow(PrescriptionError);
    expect(() => prescribe(analysis, { minimumMarginN: 500, maximumMarginN: 400 })).toThrow(/more than/);
    expect(() => prescribe(analysis, { largestStepN: Number.NaN })).toThrow(PrescriptionError);
  });

  it("refuse a log without a load", () => {
    expect(() => prescribe(without("downForceMargin"))).toThrow(/no load on the gauge wheels/);
  });
});

describe("a load set by hand", () => {
  it("is followed within the limits, and its expected effect with it", () => {
    const { lowN, highN } = editLimits(plain, "Clay")!;
    const edited = prescribe(analysis, { moisture: "damp" }, { Clay: highN });
    expect(zone(edited, "Clay").prescribedN.damp).toBeCloseTo(highN, 6);
    expect(zone(edited, "Clay").reason).toContain("Set by hand");
    expect(zone(edited, "Clay").gainShare!.estimate).toBeLessThan(zone(plain, "Clay").gainShare!.estimate);
    expect(editRefusal(plain, "Clay", lowN)).toBeNull();
    expect(editRefusal(plain, "Clay", highN)).toBeNull();
  });

  it("is refused with the reason beyond them, and does not move the zone", () => {
    const far = zone(plain, "Clay").currentMarginN! + 80 * LBF;
    expect(editRefusal(plain, "Clay", far)).toContain("largest step of 40 lb");
    expect(editRefusal(plain, "Clay", 0)).toContain("off the ground");
    expect(editRefusal(plain, "Peat", 400)).toContain('no soil zone "Peat"');
    expect(editRefusal(plain, "Clay", Number.NaN)).not.toBeNull();
    const edited = prescribe(analysis, { moisture: "damp" }, { Clay: far, Peat: 400 });
    expect(zone(edited, "Clay").prescribedN).toEqual(zone(plain, "Clay").prescribedN);
    expect(
      edited.notes.filter(({ reason }) => reason.includes("set by hand")).map(({ field }) => field),
    ).toEqual(["Clay", "Peat"]);
  });

  it("never comes out of the limits the page shows", () => {
    for (const { soilZone } of plain.decisions) {
      const limits = editLimits(plain, soilZone)!;
      for (let load = 5; load < 400; load += 7) {
        const allowed = editRefusal(plain, soilZone, load * LBF) === null;
        const within = load * LBF >= limits.lowN - 0.5 && load * LBF <= limits.highN + 0.5;
        expect(allowed).toBe(within);
      }
    }
  });
});

describe("the default settings", () => {
  it("take the user's own target band as smallest and largest load", () => {
    const field = buildField({ x: [0], y: [0], targets: { downForceMarginN: [60 * LBF, 160 * LBF] } });
    expect(defaultSettings(field)).toMatchObject({
      minimumMarginN: 60 * LBF,
      maximumMarginN: 160 * LBF,
      channel: null,
      moisture: "fit",
    });
  });
});

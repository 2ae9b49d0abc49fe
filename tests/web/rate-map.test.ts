/** Colours and words of the loads on the map, and the scale of the cards. */
import { describe, expect, it } from "vitest";
import { legendEntries, shownGround } from "../../web/map/rates/rate-map.ts";
import { loadScale, placeOf } from "../../web/prescription/load-scale.ts";
import { effectSaid, summarySaid } from "../../web/words/prescription-words.ts";
import { changeText, pointsFigure, typedLoadN } from "../../web/words/rate-words.ts";
import { inventedLayers } from "../browser/support/invented-field.ts";
import { inventedPrescription } from "../browser/support/invented-prescription.ts";

const LBF = 4.4482216152605;
const view = inventedPrescription();
const layers = inventedLayers();

describe("loads on the map", () => {
  it("shows today, the prescribed load and the change of each zone", () => {
    const said = (mode: "today" | "prescribed" | "change") =>
      shownGround(view, layers, mode, "farm").map((ground) => `${ground.number} ${ground.said}`);
    expect(said("today")).toEqual(["1 30 lb", "2 110 lb", "3 115 lb", "4 200 lb", "5 30 lb"]);
    expect(said("prescribed")).toEqual(["1 70 lb", "2 110 lb", "3 115 lb", "4 200 lb", "5 30 lb"]);
    // The proof strip stays at today's load.
    expect(said("change")).toEqual(["1 +40 lb", "2 0 lb", "3 0 lb", "4 0 lb", "5 0 lb"]);
  });

  it("gives one load one colour, today and prescribed alike", () => {
    const colours = (mode: "today" | "prescribed") =>
      new Map(shownGround(view, layers, mode, "farm").map(({ said, colour }) => [said, colour]));
    const [today, prescribed] = [colours("today"), colours("prescribed")];
    expect(today.get("200 lb")).toBe(prescribed.get("200 lb"));
    expect(today.get("30 lb")).not.toBe(prescribed.get("70 lb"));
  });

  it("shows each soil at its own load today where neighbours were merged into one zone", () => {
    const merged = {
      ...view,
      decisions: view.decisions.map((each) => ({ ...each, prescribedN: view.decisions[0]!.prescribedN })),
      zones: [{ ...view.zones[0]!, soilZones: ["clay loam", "sandy loam"] }],
    };
    const today = shownGround(merged, layers, "today", "farm");
    expect(today.map(({ soilZones, said }) => [soilZones[0], said])).toEqual([
      ["clay loam", "30 lb"],
      ["sandy loam", "110 lb"],
    ]);
    expect(shownGround(merged, layers, "prescribed", "farm")).toHaveLength(1);
  });

  it("shows each soil's load where one force stands for several", () => {
    const forced = {
      ...view,
      zones: [
        { ...view.zones[0]!, soilZones: ["clay loam", "sandy loam"] },
        { ...view.zones[1]!, number: 2, soilZones: [] },
      ],
    };
    const said = (mode: "prescribed" | "today") =>
      shownGround(forced, layers, mode, "farm").map((ground) => `${ground.number} ${ground.said}`);
    expect(said("prescribed")).toEqual(["1 70 lb", "1 110 lb", "2 110 lb"]);
    expect(said("today")).toEqual(["1 30 lb", "1 110 lb", "2 no load logged"]);
  });

  it("lists the loads in the legend from light to heavy, strips left out", () => {
    const entries = legendEntries(shownGround(view, layers, "change", "farm"));
    expect(entries.map(({ said, ground }) => `${said}: ${ground}`)).toEqual(["0 lb: 2, 3, 4", "+40 lb: 1"]);
  });
});

describe("figures of the prescription", () => {
  it("reads a typed load in the page's unit, in whole steps", () => {
    expect(typedLoadN(73, 5 * LBF, "farm") / LBF).toBeCloseTo(75, 9);
    expect(typedLoadN(330, 10, "metric")).toBe(330);
  });

  it("writes changes and points with a sign, and nothing without one", () => {
    expect(changeText(-15 * LBF, "farm")).toBe("\u221215 lb");
    expect(changeText(0.2 * LBF, "farm")).toBe("0 lb");
    expect(pointsFigure(0.0123)).toBe("+1.2");
    expect(pointsFigure(-0.0123)).toBe("\u22121.2");
    expect(pointsFigure(-0.0001)).toBe("0.0");
  });

  it("counts the outcomes and says what all of it does", () => {
    expect(summarySaid(view)).toBe(
      "1 of 4 soil zones gets another load, 1 keeps today's, 1 held back until something else is settled, 1 without counts to go by.",
    );
    expect(effectSaid(view)).toBe(
      "Whole field against today: +0.3 plants in 100 (+0.1 to +0.5), USD 210 a season (USD 20 to 480).",
    );
    expect(effectSaid({ effect: { ...view.effect, gainShare: null, money: null } })).toMatch(
      /cannot be told/,
    );
  });

  it("puts every load of the cards on one scale with round figures", () => {
    const scale = loadScale(view, "farm");
    expect(scale.ticksN.map((tickN) => Math.round(tickN / LBF))).toEqual([0, 50, 100, 150, 200, 250]);
    expect(placeOf(scale, 250 * LBF, 100)).toBeCloseTo(100, 6);
    expect(placeOf(scale, 300 * LBF, 100)).toBe(100);
  });
});

import { describe, expect, it } from "vitest";
import { groundState as stateOfZone } from "../../src/compare/ground-state.ts";
import { THRESHOLDS } from "../../src/compare/thresholds.ts";
import { DRAINAGE_CLASSES, type DrainageClass } from "../../src/vocabulary/drainage.ts";
import type { Field, TextureClass } from "../../src/vocabulary/field.ts";
import { buildField } from "../support/field-builder.ts";

const WET = THRESHOLDS.wetRain.value;

/** Rain by day; a day without an entry was not recorded. */
function fieldWith(rain: Record<string, number> | null): Field {
  const field = buildField({ x: [0], y: [0] });
  if (rain) {
    const time = Object.keys(rain);
    const missing = () => new Float64Array(time.length).fill(Number.NaN);
    field.weather = {
      time,
      rainMm: Float64Array.from(Object.values(rain)),
      minimumC: missing(),
      maximumC: missing(),
      soilC: missing(),
    };
  }
  return field;
}

/** State on a zone of that texture and drainage. */
function groundState(
  field: Field,
  day: string | null,
  texture: TextureClass,
  drainage: DrainageClass = null,
) {
  field.soilZones = { names: ["a"], polygons: [], texture: [texture], drainage: [drainage] };
  return stateOfZone(field, day, 0);
}

describe("rain before planting", () => {
  const onClay = (rain: Record<string, number> | null, day: string | null = "2026-04-24") =>
    groundState(fieldWith(rain), day, "clay");

  it("adds up, dries from day to day, and that of the day of planting is left out", () => {
    const parts = { "2026-04-21": WET / 3, "2026-04-22": WET / 3, "2026-04-23": WET / 3 };
    expect(onClay(parts)).toBe("damp");
    expect(onClay({ ...parts, "2026-04-21": 0, "2026-04-22": 0 })).toBe("fit");
    expect(onClay({ "2026-04-23": 0, "2026-04-24": 50 })).toBe("fit");
    expect(onClay({ "2026-04-23": 0, "2026-04-24": 50 }, "2026-04-25")).toBe("wait");
  });

  it("amount and age decide: clay waits for days after a heavy rain, then is damp, then fit", () => {
    const weather: Record<string, number> = { "2026-04-01": 40 };
    for (let day = 2; day < 30; day++) weather[`2026-04-${String(day).padStart(2, "0")}`] = 0;
    const states = Array.from({ length: 24 }, (_, k) =>
      onClay(weather, `2026-04-${String(k + 2).padStart(2, "0")}`),
    );
    expect(states.slice(0, 4)).toEqual(Array(4).fill("wait"));
    expect(states.slice(5, 12)).toEqual(Array(7).fill("damp"));
    expect(states[14]).toBe("fit");
    expect(states[22]).toBe("dry");
  });

  it("warm days dry it sooner than cold ones", () => {
    const at = (meanC: number) => {
      const field = fieldWith({ "2026-04-18": 20, "2026-04-19": 0, "2026-04-20": 0, "2026-04-21": 0 });
      field.weather!.minimumC.fill(meanC - 5);
      field.weather!.maximumC.fill(meanC + 5);
      return groundState(field, "2026-04-22", "silt loam");
    };
    expect(at(4)).toBe("damp");
    expect(at(20)).toBe("fit");
  });

  it("goes by the day: hourly rain adds up, the hour of planting does not matter", () => {
    const hourly = { "2026-04-23T02:00": WET / 2, "2026-04-23T22:00": WET / 2, "2026-04-24T01:00": 0 };
    expect(onClay(hourly, "2026-04-24T23:30:00")).toBe("damp");
    expect(onClay(hourly, "2026-04-24")).toBe("damp");
  });

  it("where it is not known the ground is judged as without weather", () => {
    for (const [rain, day] of [
      [null, "2026-04-24"],
      [{ "2026-04-23": 30 }, null],
      [{ "2026-04-23": 30 }, "2026-06-01"],
    ] as const) {
      expect(onClay(rain, day)).toBe("damp");
      expect(groundState(fieldWith(rain), day, "clay loam")).toBe("fit");
    }
  });

  it("a day recorded without a reading is a day without rain, not one without record", () => {
    expect(onClay({ "2026-04-23": Number.NaN, "2026-04-22": 1 })).toBe("fit");
  });
});

describe("state of the ground", () => {
  const textures: TextureClass[] = ["sand", "sandy loam", "loam", "silt loam", "clay loam", "clay", null];
  const day = "2026-04-24";
  const states = (rainMm: number, rainDay: string) =>
    textures.map((texture) => groundState(fieldWith({ [rainDay]: rainMm, "2026-04-23": 0 }), day, texture));

  it("a shower leaves clayey ground damp, an inch medium ground too, three inches all but sand to wait", () => {
    const [damp, fit, wait] = ["damp", "fit", "wait"];
    expect(states(WET, "2026-04-22")).toEqual([fit, fit, fit, fit, damp, damp, fit]);
    expect(states(25, "2026-04-22")).toEqual([fit, fit, damp, damp, wait, wait, damp]);
    const eve = textures.map((texture) => groundState(fieldWith({ "2026-04-23": 75 }), day, texture));
    expect(eve.every((state) => state === "wait")).toBe(true);
    expect(states(75, "2026-04-22")[0]).toBe(fit);
  });

  it("ten dry days of April leave it fit, three dry warm weeks dry; sand is dry first", () => {
    const dryDays = (count: number, meanC: number) => {
      const field = fieldWith(
        Object.fromEntries(
          Array.from({ length: count }, (_, k) => [
            new Date(Date.parse("2026-04-24") - (k + 1) * 86_400_000).toISOString().slice(0, 10),
            0,
          ]),
        ),
      );
      field.weather!.minimumC.fill(meanC - 6);
      field.weather!.maximumC.fill(meanC + 6);
      return field;
    };
    const cool = dryDays(10, 10);
    expect(groundState(cool, day, "silt loam")).toBe("fit");
    expect(groundState(cool, day, "sandy loam")).toBe("fit");
    const warm = dryDays(10, 18);
    expect(groundState(warm, day, "sandy loam")).toBe("dry");
    expect(groundState(warm, day, "clay")).toBe("fit");
    expect(groundState(dryDays(21, 15), day, "clay")).toBe("dry");
  });

  it("after rain poorly drained ground is damp, whatever its texture", () => {
    const field = fieldWith({ "2026-04-22": WET });
    for (const drainage of DRAINAGE_CLASSES) {
      const poorly = drainage === "poorly drained" || drainage === "very poorly drained";
      expect(groundState(field, day, "silt loam", drainage)).toBe(poorly ? "damp" : "fit");
      expect(groundState(fieldWith(null), day, "silt loam", drainage)).toBe("fit");
    }
  });

  it("ground outside all zones dries like loam", () => {
    expect(stateOfZone(fieldWith({ "2026-04-22": WET }), day, -1)).toBe("fit");
    expect(stateOfZone(fieldWith({ "2026-04-23": 30 }), day, -1)).toBe("wait");
  });

  it("without weather only clay is taken for damp", () => {
    const field = fieldWith(null);
    for (const texture of textures)
      expect(groundState(field, day, texture)).toBe(texture === "clay" ? "damp" : "fit");
  });
});

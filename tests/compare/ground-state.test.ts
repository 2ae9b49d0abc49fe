import { describe, expect, test } from "vitest";
import { groundState as stateOfZone } from "../../src/compare/ground-state.ts";
import { THRESHOLDS } from "../../src/compare/thresholds.ts";
import { DRAINAGE_CLASSES, type DrainageClass } from "../../src/field/drainage.ts";
import type { Field, TextureClass } from "../../src/field/field.ts";
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

  test("adds up over three days, the day of planting left out", () => {
    const parts = { "2026-04-21": WET / 3, "2026-04-22": WET / 3, "2026-04-23": WET / 3 + 0.01 };
    expect(onClay(parts)).toBe("damp");
    expect(onClay({ ...parts, "2026-04-21": 0 })).not.toBe("damp");
    expect(onClay({ "2026-04-20": 50, "2026-04-23": 0 })).toBe("fit");
    expect(onClay({ "2026-04-23": 0, "2026-04-24": 50 })).not.toBe("damp");
    expect(onClay({ "2026-04-23": 0, "2026-04-24": 50 }, "2026-04-25")).toBe("damp");
  });

  test("goes by the day: hourly rain adds up, the hour of planting does not matter", () => {
    const hourly = { "2026-04-23T02:00": WET / 2, "2026-04-23T22:00": WET / 2, "2026-04-24T01:00": 0 };
    expect(onClay(hourly, "2026-04-24T23:30:00")).toBe("damp");
    expect(onClay(hourly, "2026-04-24")).toBe("damp");
  });

  test("where it is not known the ground is judged as without weather", () => {
    for (const [rain, day] of [
      [null, "2026-04-24"],
      [{ "2026-04-23": 30 }, null],
      [{ "2026-04-23": 30 }, "2026-06-01"],
    ] as const) {
      expect(onClay(rain, day)).toBe("damp");
      expect(groundState(fieldWith(rain), day, "clay loam")).toBe("fit");
    }
  });

  test("a day recorded without a reading is a day without rain, not one without record", () => {
    expect(onClay({ "2026-04-23": Number.NaN, "2026-04-22": 1 })).toBe("dry");
  });
});

describe("state of the ground", () => {
  const textures: TextureClass[] = ["sand", "sandy loam", "loam", "silt loam", "clay loam", "clay", null];
  const day = "2026-04-24";

  test("after rain clayey ground is damp, other ground fit", () => {
    const field = fieldWith({ "2026-04-22": WET });
    for (const texture of textures)
      expect(groundState(field, day, texture)).toBe(
        texture === "clay" || texture === "clay loam" ? "damp" : "fit",
      );
  });

  test("a shower below the limit does not make it damp", () => {
    const field = fieldWith({ "2026-04-22": WET - 0.1, "2026-04-16": 3 });
    expect(groundState(field, day, "clay")).toBe("fit");
  });

  test("rain more than three days back leaves it fit, none for ten days leaves it dry", () => {
    expect(groundState(fieldWith({ "2026-04-16": 20, "2026-04-23": 0 }), day, "clay")).toBe("fit");
    expect(groundState(fieldWith({ "2026-04-12": 20, "2026-04-23": 0 }), day, "loam")).toBe("dry");
  });

  test("after rain poorly drained ground is damp, whatever its texture", () => {
    const field = fieldWith({ "2026-04-22": WET });
    for (const drainage of DRAINAGE_CLASSES) {
      const poorly = drainage === "poorly drained" || drainage === "very poorly drained";
      expect(groundState(field, day, "silt loam", drainage)).toBe(poorly ? "damp" : "fit");
      expect(groundState(fieldWith(null), day, "silt loam", drainage)).toBe("fit");
    }
  });

  test("ground outside all zones holds no water", () => {
    expect(stateOfZone(fieldWith({ "2026-04-22": WET }), day, -1)).toBe("fit");
  });

  test("without weather only clay is taken for damp", () => {
    const field = fieldWith(null);
    for (const texture of textures)
      expect(groundState(field, day, texture)).toBe(texture === "clay" ? "damp" : "fit");
  });
});

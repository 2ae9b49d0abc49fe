/** Undo and redo against a plain model, and what a session file may hold. */
import { signal } from "@preact/signals";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { edit, forgetChanges, nextRedo, nextUndo, redo, undo } from "../../web/model/history.ts";
import { fieldKey, otherFiles, SESSION_SCHEMA, type Session, sessionOf } from "../../web/model/session.ts";

describe("the history of edits", () => {
  it("goes back and forth as a list of values would", () => {
    const steps = fc.array(
      fc.oneof(fc.record({ set: fc.integer({ min: 0, max: 3 }) }), fc.constantFrom("undo", "redo")),
      { maxLength: 60 },
    );
    fc.assert(
      fc.property(steps, (list) => {
        forgetChanges();
        const value = signal(0);
        let past: number[] = [];
        let future: number[] = [];
        let now = 0;
        for (const step of list) {
          if (typeof step === "object") {
            edit("set", value, step.set);
            if (step.set !== now) [past, now, future] = [[...past, now], step.set, []];
          } else if (step === "undo") {
            undo();
            if (past.length > 0) [future, now, past] = [[...future, now], past.at(-1)!, past.slice(0, -1)];
          } else {
            redo();
            if (future.length > 0)
              [past, now, future] = [[...past, now], future.at(-1)!, future.slice(0, -1)];
          }
          expect(value.value).toBe(now);
          expect(nextUndo.value).toBe(past.length > 0 ? "set" : null);
          expect(nextRedo.value).toBe(future.length > 0 ? "set" : null);
        }
      }),
    );
  });

  it("says what would be undone", () => {
    forgetChanges();
    const note = signal("");
    edit("Note on place 2", note, "dug here");
    expect(nextUndo.value).toBe("Note on place 2");
    undo();
    expect([note.value, nextUndo.value, nextRedo.value]).toEqual(["", null, "Note on place 2"]);
  });
});

const SESSION: Session = {
  schema: SESSION_SCHEMA,
  field: { name: "North", files: [{ role: "plantingLog", file: "a.csv", sha256: "12" }] },
  source: "files",
  manifest: { name: "North" },
  choices: {
    units: "metric",
    variable: "speed",
    beside: null,
    finding: "F1",
    pass: 3,
    dock: "rows",
    filter: { pass: null, rowUnit: 7, zone: null, day: null, speedBand: 1 },
  },
  notes: { F1: "dug on Monday", field: "<b>wet</b>" },
};

describe("a session file", () => {
  it("comes back as it was saved", () => {
    expect(sessionOf(JSON.stringify(SESSION))).toEqual(SESSION);
  });

  it("holds what was chosen about the prescription", () => {
    const prescription = { settings: { moisture: "damp" }, edits: { damp: { clay: 300.5 } } };
    expect(sessionOf(JSON.stringify({ ...SESSION, prescription }))).toEqual({ ...SESSION, prescription });
    const wet = { ...prescription, edits: { wet: { clay: 300 } } };
    expect(sessionOf(JSON.stringify({ ...SESSION, prescription: wet }))).toBeNull();
  });

  it("is refused whole when anything in it is not what it should be", () => {
    const broken: ((session: Record<string, never>) => void)[] = [
      (s) => Object.assign(s, { schema: "evenstand/session/2" }),
      (s) => Object.assign(s, { notes: { F1: 3 } }),
      (s) => Object.assign(s, { notes: { F1: "x".repeat(20_001) } }),
      (s) => Object.assign(s, { source: "https://example.org" }),
      (s) => Object.assign(s.choices!, { pass: 1.5 }),
      (s) => Object.assign(s.choices!, { units: "cubits" }),
      (s) => Object.assign(s, { field: null }),
    ];
    for (const breakIt of broken) {
      const copy = structuredClone(SESSION) as unknown as Record<string, never>;
      breakIt(copy);
      expect(sessionOf(JSON.stringify(copy))).toBeNull();
    }
    for (const text of ["", "null", "[]", '{"schema":', "42"]) expect(sessionOf(text)).toBeNull();
  });

  it("knows its field by what the files hold, and names those that differ", () => {
    const one = { role: "plantingLog", file: "a.csv", sha256: "1" };
    const renamed = { ...one, file: "b.csv" };
    const soil = { role: "soilZones", file: "s.geojson", sha256: "2" };
    expect(fieldKey("North", [one, soil])).toBe(fieldKey("North", [soil, renamed]));
    expect(fieldKey("North", [one])).not.toBe(fieldKey("North", [{ ...one, sha256: "9" }]));
    expect(otherFiles([one, soil], [renamed, soil])).toEqual([]);
    expect(otherFiles([one, soil], [{ ...one, sha256: "9" }])).toEqual(["a.csv", "s.geojson"]);
  });
});

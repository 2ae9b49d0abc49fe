import { describe, expect, it } from "vitest";
import { NoteBook } from "../../src/ingest/note-book.ts";

describe("NoteBook", () => {
  it("counts the records of each kind of trouble and keeps the first one", () => {
    const notes = new NoteBook();
    const ring = { reason: "a ring was turned", effect: "converted" } as const;
    for (const record of [3, 3, 4]) notes.add({ ...ring, record });
    notes.add({ ...ring, field: "DEPTH", record: 9, value: "x".repeat(100) });
    notes.add({ reason: "deleted", effect: "left out", count: 5, record: 2 });
    notes.add({ reason: "no system named", effect: "assumed" });
    expect(notes.notes()).toEqual([
      { ...ring, count: 2, field: null, firstRecord: 3, value: null },
      { ...ring, count: 1, field: "DEPTH", firstRecord: 9, value: `${"x".repeat(59)}…` },
      { reason: "deleted", effect: "left out", count: 5, field: null, firstRecord: 2, value: null },
      { reason: "no system named", effect: "assumed", count: 1, field: null, firstRecord: null, value: null },
    ]);
  });
});

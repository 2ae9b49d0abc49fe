import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ledgerText } from "../../src/words/ledger-text.ts";
import { documentFixture, findingFixture } from "../support/findings-fixture.ts";

const as = (width: number) => ({ width, emphasise: (text: string) => text });

describe("the ledger in plain text", () => {
  it("says place, cause, area, loss, how sure, what to do, with caution", () => {
    expect(ledgerText(documentFixture(), as(80))).toMatchInlineSnapshot(`
      "Test Field · 2026 · corn · 34.2 ha (84.5 ac)
      29,900 plants/ac stand, 88 % of the target.
      One place falls short.
      Silty clay is 21 % short of the rest of the field.
      Too few counts to test: direction of travel.

       1  Gauge wheels running light
          Where        clay loam, north-east side; 2.1 ha (5.2 ac)
          Loss         USD 1,300 (180 to 1,400; 90 % interval)
          Yield there  7.0 % less (4.0 to 10.0; 90 % interval)
          Plants       12.0 % short (8.0 to 16.0; 90 % interval)
          How sure     93 %, rests on 9 counts and 1 dig
                       Could also be: soil or weather 5 %.
          Seen         gauge-wheel load: 21 lb here, 108 lb elsewhere (aim 60 lb to
                       160 lb)
          What to do   Carry more load on this ground.
                       Worth fixing before next spring? At USD 450 it may pay within a
                       year.
          Check first  Dig ten seeds here.
          Caution      Follow the operator's manual.

      No finding on the other 32.1 ha (79.3 ac).

      Coming up
          Planted 2026-04-24: emergence to be expected about 2026-05-08.
          Flag tests, 60 plants at 2 spots.
          clay loam, planted before and after 0.47 in of rain.

      Plant spacing
          20 plant spacings at 1 spot.

      Could not be judged
          singulation: the log has no such column

      Left out or assumed on reading the files
          planting.zip: 1 of 100 records left out
      "
    `);
  });

  it("begins with a line for each finding where there are several, within the width", () => {
    const long = findingFixture({ id: "F2", loss: { yieldShare: null, money: null, seed: null, notes: [] } });
    long.words = {
      ...long.words,
      title: "A very long title that has no room at all on one line of the overview",
    };
    const document = documentFixture([findingFixture(), long]);
    expect(ledgerText(document, as(80)).split("\n").slice(6, 8)).toEqual([
      " 1  Gauge wheels running light             2.1 ha (5.2 ac)   USD 1,300      93 %",
      " 2  A very long title that has no r ...    2.1 ha (5.2 ac)                  93 %",
    ]);
    const narrow = ledgerText(document, as(60));
    // No overview where it does not fit: the entries follow at once, and each title stands once.
    expect(narrow.split("\n\n")[1]!.split("\n")[0]).toBe(" 1  Gauge wheels running light");
    expect(narrow.match(/Gauge wheels running light/g)).toHaveLength(1);
  });

  it("says so where nothing is wrong", () => {
    const text = ledgerText(documentFixture([]), as(80));
    expect(text).toContain("Tested and even.");
    expect(text).not.toContain("No finding on");
  });

  it("says in words where no yield is lost", () => {
    const none = { estimate: 0, low: 0, high: 0, level: 0.9 };
    const text = ledgerText(
      documentFixture([findingFixture({ loss: { yieldShare: none, money: null, seed: null, notes: [] } })]),
      as(80),
    );
    expect(text).toContain(
      "Loss         not put into money\n    Yield there  no loss by the published tables\n",
    );
  });

  it("says what was left out and what was assumed", () => {
    const document = documentFixture();
    const note = { count: 1123, field: null, firstRecord: 17, value: null };
    document.inputs[0] = {
      ...document.inputs[0]!,
      records: 190_123,
      leftOut: 1123,
      notes: [
        { ...note, reason: "no position", effect: "left out" },
        { ...note, reason: "degrees, by the range of the numbers", effect: "assumed" },
        { ...note, reason: "a ring was turned", effect: "converted" },
      ],
    };
    const text = ledgerText(document, as(80));
    expect(text).toContain("    planting.zip: 1,123 of 190,123 records left out: no position\n");
    expect(text).toContain("    planting.zip: assumed: degrees, by the range of the numbers\n");
    expect(text).not.toContain("a ring was turned");
  });

  it("keeps what the counts cleared apart from the problems", () => {
    const cleared = findingFixture({ id: "F2", basis: "cleared" });
    const text = ledgerText(documentFixture([findingFixture(), cleared]), as(80));
    expect(text).toContain("the counts show no harm");
    expect(text.match(/What to do/g)).toHaveLength(1);
  });

  it("says what rests on the log alone", () => {
    const text = ledgerText(documentFixture([findingFixture({ basis: "predicted" })]), as(80));
    expect(text).toContain("How sure     93 %, from the log only");
  });

  it("stays within the width and lets no control character through", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 40, max: 120 }),
        fc.array(fc.string({ maxLength: 20, unit: "binary" }), { maxLength: 30 }),
        (width, words) => {
          const finding = findingFixture();
          finding.words.place = words.join(" ");
          for (const line of ledgerText(documentFixture([finding]), as(width))
            .slice(0, -1)
            .split("\n")) {
            expect(line).not.toMatch(/[\p{Cc}\p{Cf}]/u);
            if (/\s\S+\s/.test(line.trim())) expect(line.length).toBeLessThanOrEqual(width);
          }
        },
      ),
    );
  });
});

import { describe, expect, it } from "vitest";
import { describeFailure } from "../../src/cli/terminal/failure.ts";
import { FileUnusableError, ManifestError } from "../../src/errors.ts";

describe("the message of an error", () => {
  it("adds what the message leaves out: file, field, value, accepted", () => {
    const error = new ManifestError("cannot read it", {
      file: "a.csv",
      field: "DEPTH",
      value: "2 lbf",
      accepted: "in, mm",
    });
    expect(describeFailure(error, false)).toEqual({
      exitCode: 3,
      message:
        "evenstand: cannot read it\n  file: a.csv\n  field: DEPTH\n  value: 2 lbf\n  accepted: in, mm\n",
    });
  });

  it("says nothing twice", () => {
    const message = "a.csv: DEPTH is 2 lbf; write mm or in";
    const error = new FileUnusableError(message, {
      file: "a.csv",
      field: "DEPTH",
      value: "2 lbf",
      accepted: "in, mm",
    });
    expect(describeFailure(error, false).message).toBe(`evenstand: ${message}\n`);
  });

  it("shows the causes of an error on demand", () => {
    const error = new FileUnusableError("unusable", { cause: new RangeError("deep down") });
    expect(describeFailure(error, false).message).not.toContain("deep down");
    expect(describeFailure(error, true).message).toContain("deep down");
  });

  it("takes whatever is thrown for a fault of ours", () => {
    for (const thrown of [new TypeError("x"), "text", null, undefined]) {
      const { exitCode, message } = describeFailure(thrown, true);
      expect(exitCode).toBe(1);
      expect(message).toContain("a fault of ours");
    }
  });
});

// `npm run docs`: writes anew what of the documents the code says: JSON Schemas and the register of constants.
import { runStep } from "./set-up.mjs";

const files = [
  "tests/docs.test.ts",
  "tests/field/field-schema.test.ts",
  "tests/document-schemas.test.ts",
  "tests/season/season-schema.test.ts",
];
process.exitCode = runStep("npx", ["vitest", "run", "--project", "unit", ...files], {
  env: { ...process.env, UPDATE_DOCS: "1" },
});

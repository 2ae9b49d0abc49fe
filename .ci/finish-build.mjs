// Last step of `npm run build`: the notices beside what is handed out, the command made runnable, the stamp.
import {
  chmodSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { root, stampFile } from "./set-up.mjs";

const notices = noticesWithTexts();
for (const folder of ["dist/web", "dist/report", "dist/season"]) {
  mkdirSync(join(root, folder), { recursive: true });
  writeFileSync(join(root, folder, "THIRD-PARTY-NOTICES.txt"), notices);
}
// The page fills the same template as the command.
copyFileSync(join(root, "dist/report/report.html"), join(root, "dist/web/report-template.html"));
chmodSync(join(root, "dist/src/cli/main.js"), 0o755);
writeFileSync(stampFile, "");

/** The notices of the project followed by the licence text of every package that is part of what runs. */
function noticesWithTexts() {
  const lock = JSON.parse(readFileSync(join(root, "package-lock.json"), "utf8")).packages;
  const byText = new Map();
  for (const [path, entry] of Object.entries(lock)) {
    const fonts = path.startsWith("node_modules/@fontsource/");
    if (path === "" || (entry.dev && !fonts)) continue;
    const folder = join(root, path);
    if (!existsSync(folder)) continue;
    const file = readdirSync(folder).find((name) => /^(licen[cs]e|copying)/i.test(name));
    const text = file
      ? readFileSync(join(folder, file), "utf8").trim()
      : `Licence as stated by the package: ${entry.license}`;
    const name = `${path.slice(path.lastIndexOf("node_modules/") + "node_modules/".length)} ${entry.version} (${entry.license})`;
    byText.set(text, [...(byText.get(text) ?? []), name]);
  }
  const parts = [...byText].map(([text, names]) => `${names.join("\n")}\n\n${text}\n`);
  const heading = readFileSync(join(root, "THIRD-PARTY-NOTICES.md"), "utf8").trim();
  return [`${heading}\n`, ...parts].join(`\n${"-".repeat(78)}\n\n`);
}

// What a fresh clone needs before anything runs: packages, the build, Chromium. Plain Node, no packages.
import { spawnSync } from "node:child_process";
import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

export const root = dirname(dirname(fileURLToPath(import.meta.url)));

/** Runs a command in the checkout with its output shown; returns its exit code (1 when it could not start). */
export function runStep(command, args, extra = {}) {
  // npm is a script on Windows, which only a shell starts; the arguments are all our own.
  const shell = process.platform === "win32";
  const { status } = spawnSync(command, args, { cwd: root, stdio: "inherit", shell, ...extra });
  return status ?? 1;
}

/** Ends the process with a plain message when this Node is too old for the project. */
export function requireNode() {
  // The same as "engines" in package.json.
  const [major, minor] = process.versions.node.split(".").map(Number);
  const isEnough = (major === 20 && minor >= 19) || (major === 22 && minor >= 12) || major > 22;
  if (!isEnough) {
    process.stderr.write(
      `Evenstand needs Node.js 20.19 or a later 20, or 22.12 and newer; this is ${process.versions.node}.\n`,
    );
    process.exit(1);
  }
}

/** Installs the packages of the lock file where they are missing or older than it. Returns false on failure. */
export function installPackages() {
  const installed = join(root, "node_modules", ".package-lock.json");
  const lock = join(root, "package-lock.json");
  if (existsSync(installed) && statSync(installed).mtimeMs >= statSync(lock).mtimeMs) return true;
  if (existsSync(installed) && sameVersions(installed, lock)) return true;
  process.stderr.write("Installing the packages of package-lock.json (npm ci) ...\n");
  return runStep("npm", ["ci", "--no-audit", "--no-fund"]) === 0;
}

/** A fresh checkout may touch the lock file without changing it: every installed version is compared. */
function sameVersions(installedPath, lockPath) {
  try {
    const installed = JSON.parse(readFileSync(installedPath, "utf8")).packages;
    const wanted = JSON.parse(readFileSync(lockPath, "utf8")).packages;
    return Object.entries(wanted).every(
      ([path, entry]) => path === "" || entry.optional || installed[path]?.version === entry.version,
    );
  } catch {
    return false;
  }
}

const sources = ["src", "web", "sample-data", ".ci"];
const sourceFiles = ["package.json", "tsconfig.json", "tsconfig.build.json", "THIRD-PARTY-NOTICES.md"];
const sourceEndings = /\.(ts|tsx|mjs|css|html|svg|md|json|geojson|csv|zip)$/;

/** Time of the newest file the build is made from, in milliseconds. */
function newestSource() {
  let newest = 0;
  const look = (path) => {
    newest = Math.max(newest, statSync(path).mtimeMs);
  };
  const walk = (folder) => {
    for (const entry of readdirSync(folder, { withFileTypes: true })) {
      const path = join(folder, entry.name);
      if (entry.isDirectory()) walk(path);
      else if (sourceEndings.test(entry.name)) look(path);
    }
  };
  for (const folder of sources) if (existsSync(join(root, folder))) walk(join(root, folder));
  for (const entry of readdirSync(root))
    if (/^vite\..*config\.ts$|^vite\.config\.ts$/.test(entry)) look(join(root, entry));
  for (const file of sourceFiles) if (existsSync(join(root, file))) look(join(root, file));
  return newest;
}

export const stampFile = join(root, "dist", ".built");

/** Builds the command and the page where the build is missing or older than its sources. Returns false on failure. */
export function buildWhereStale() {
  if (existsSync(stampFile) && statSync(stampFile).mtimeMs >= newestSource()) return true;
  process.stderr.write("Building the command and the page (npm run build) ...\n");
  return runStep("npm", ["run", "--silent", "build"]) === 0;
}

/** Path of an installed Chromium or Chrome, null when none is found. EVENSTAND_CHROMIUM names one outright. */
export function findChromium() {
  const named = process.env.EVENSTAND_CHROMIUM;
  const candidates = [
    ...(named ? [named] : []),
    "/usr/bin/chromium",
    "/usr/bin/chromium-browser",
    "/usr/bin/google-chrome",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
  ];
  return candidates.find((path) => existsSync(path)) ?? null;
}

/** Installs packages with apt-get where this is Debian or its kin and we are root; elsewhere does nothing. */
function installFromDebian(packages) {
  if (!existsSync("/etc/debian_version") || process.getuid?.() !== 0) return;
  const env = { ...process.env, DEBIAN_FRONTEND: "noninteractive" };
  if (runStep("apt-get", ["update"], { env }) === 0) {
    runStep("apt-get", ["install", "-y", "--no-install-recommends", ...packages], { env });
  }
}

/** Packages of R that the longer tests and the benchmarks compare with. */
const R_PACKAGES = ["data.table", "sf", "spdep"];

/** Installs what the longer tests compare with, GDAL and R, where it can; without them those tests say so and are skipped. */
export function installOracles() {
  const missing = [
    "/usr/bin/ogr2ogr",
    "/usr/bin/Rscript",
    ...R_PACKAGES.map((name) => `/usr/lib/R/site-library/${name}`),
  ].some((path) => !existsSync(path));
  if (!missing) return;
  process.stderr.write("Installing GDAL and R for the longer tests (apt-get) ...\n");
  installFromDebian(["gdal-bin", "r-base-core", ...R_PACKAGES.map((name) => `r-cran-${name}`)]);
}

/** Installs Chromium on Debian and its kin as root; elsewhere says what to install. Returns its path or null. */
export function installChromium() {
  const found = findChromium();
  if (found) return found;
  process.stderr.write("Installing Chromium and fonts for the browser tests (apt-get) ...\n");
  installFromDebian(["chromium", "fonts-dejavu-core", "fonts-liberation"]);
  const path = findChromium();
  if (path) return path;
  process.stderr.write(
    "The browser tests need Chromium. Install it by hand and run again:\n" +
      "  Debian or Ubuntu, as root: apt-get install chromium fonts-dejavu-core fonts-liberation\n" +
      "  elsewhere: install Chromium, then set EVENSTAND_CHROMIUM to the path of its program\n",
  );
  return null;
}

/** The job files of docs/jobs: what a part is told, and that kubectl's own types of the API know every field of them. */
import { execFileSync } from "node:child_process";
import { chmodSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { parseAllDocuments } from "yaml";
import { temporaryFolder } from "../support/temporary-folder.ts";

const FILE = fileURLToPath(new URL("../../docs/jobs/season-kubernetes.yaml", import.meta.url));

interface Container {
  command?: string[];
  args: string[];
  env?: { name: string; value: string }[];
}

interface Job {
  apiVersion: string;
  kind: string;
  metadata: { name: string; labels: { step: string } };
  spec: { completions?: number; template: { spec: { containers: Container[] } } };
}

const jobs = parseAllDocuments(readFileSync(FILE, "utf8")).map((document) => document.toJS() as Job);

function hasKubectl(): boolean {
  try {
    execFileSync("kubectl", ["version", "--client"], { stdio: "ignore" });
    return true;
  } catch {
    return false;
  }
}

/** Paths of all values of `wanted` that `given` has not, or has otherwise. */
function missingFrom(given: unknown, wanted: unknown, path = ""): string[] {
  if (typeof wanted !== "object" || wanted === null) return given === wanted ? [] : [path];
  const inside = given as Record<string, unknown> | undefined;
  return Object.entries(wanted).flatMap(([key, value]) =>
    missingFrom(inside?.[key], value, `${path}/${key}`),
  );
}

describe("the Kubernetes jobs", () => {
  // What its types do not know kubectl drops, what has another type it refuses.
  it.skipIf(!hasKubectl())("are jobs of the API batch/v1 to kubectl, with every field", () => {
    // It prints only what it changes: the image.
    const words = ["set", "image", "--local", "-f", FILE, "season=other", "-o", "yaml"];
    const known = parseAllDocuments(execFileSync("kubectl", words, { encoding: "utf8" }));
    const given = jobs.map((job) => job.spec.template.spec.containers.map(() => "/image"));
    expect(known).toHaveLength(2);
    known.forEach((document, k) => {
      const lost = missingFrom(document.toJS(), jobs[k]);
      expect(lost.map((path) => path.slice(path.lastIndexOf("/")))).toEqual(given[k]);
    });
  });

  it("see a field of another name", () => {
    expect(missingFrom({ a: { b: 1 } }, { a: { c: 1 } })).toEqual(["/a/c"]);
  });

  it("give each index its own part, all parts together the whole", () => {
    const [parts] = jobs;
    const [container] = parts!.spec.template.spec.containers;
    const { completions } = parts!.spec;
    const env = Object.fromEntries(container!.env!.map(({ name, value }) => [name, value]));
    expect(env.PARTS).toBe(String(completions));
    const scratch = temporaryFolder();
    const stub = join(scratch, "evenstand");
    writeFileSync(stub, '#!/bin/sh\necho "$@"\n');
    chmodSync(stub, 0o755);
    const told = Array.from({ length: completions! }, (_, index) => {
      const [shell, ...words] = [...container!.command!, ...container!.args];
      const own = { ...env, JOB_COMPLETION_INDEX: String(index), PATH: `${scratch}:/usr/bin:/bin` };
      return execFileSync(shell!, words, { env: own, encoding: "utf8" });
    });
    told.forEach((line, index) => {
      expect(line).toContain(
        `season run /data/fields --out /data/season-2026 --shard ${index + 1}/16 --workers 1`,
      );
    });
  });
});

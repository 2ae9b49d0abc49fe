import { mkdirSync, symlinkSync, writeFileSync } from "node:fs";
import { type IncomingHttpHeaders, request } from "node:http";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type RunningServer, startServer } from "../../src/cli/browser/server.ts";
import { FieldFiles } from "../../src/cli/files/field-files.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";

const folder = temporaryFolder();
const webFolder = join(folder, "web");
const fieldFolder = join(folder, "field");
let server: RunningServer;
let empty: RunningServer;

interface Got {
  status: number;
  headers: IncomingHttpHeaders;
  body: string;
}

/** A request with the path as it stands: a URL object would resolve ".." before it is sent. */
function get(path: string, headers: Record<string, string> = {}, method = "GET", at = server): Promise<Got> {
  return new Promise((resolve, reject) => {
    const sent = request({ host: "127.0.0.1", port: at.port, path, method, headers }, (response) => {
      let body = "";
      response.setEncoding("latin1");
      response.on("data", (text: string) => {
        body += text;
      });
      response.on("end", () =>
        resolve({ status: response.statusCode ?? 0, headers: response.headers, body }),
      );
    });
    sent.on("error", reject);
    sent.end();
  });
}

beforeAll(async () => {
  mkdirSync(webFolder);
  mkdirSync(join(fieldFolder, "soil"), { recursive: true });
  writeFileSync(join(webFolder, "index.html"), "<!doctype html><title>page</title>");
  writeFileSync(join(webFolder, "app.js"), "export {};");
  writeFileSync(join(folder, "secret.txt"), "secret");
  symlinkSync(join(folder, "secret.txt"), join(webFolder, "link.txt"));
  writeFileSync(join(fieldFolder, "log é.csv"), "a,b\n1,2\n");
  writeFileSync(join(fieldFolder, "private.txt"), "private");
  for (const name of ["Map.SHP", "map.dbf", "map.PRJ", "map.txt"]) {
    writeFileSync(join(fieldFolder, "soil", name), name);
  }
  const files = new FieldFiles(fieldFolder, false);
  server = await startServer({
    webFolder,
    port: 0,
    field: {
      name: "Test",
      manifest: { plantingLog: { file: "log é.csv" } },
      paths: ["log é.csv", "soil/Map.SHP"],
      pieces: files.pieces,
    },
  });
  empty = await startServer({ webFolder, port: 0, field: null });
});

afterAll(async () => {
  await server.close();
  await empty.close();
});

describe("the page", () => {
  it("is served with its type and a policy that lets nothing else in", async () => {
    const page = await get("/");
    expect(page.status).toBe(200);
    expect(page.headers["content-type"]).toBe("text/html; charset=utf-8");
    expect(page.body).toContain("<title>page</title>");
    const policy = String(page.headers["content-security-policy"]);
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("script-src 'self'");
    expect(policy).toContain("worker-src 'self' blob:");
    expect(policy).toContain("img-src 'self' data: blob:");
    expect(policy).toContain("connect-src 'self'");
    expect(policy).not.toContain("unsafe-eval");
    expect(policy).not.toContain("unsafe-inline");
    expect(page.headers["x-content-type-options"]).toBe("nosniff");
    expect((await get("/app.js?v=1")).headers["content-type"]).toBe("text/javascript; charset=utf-8");
  });

  it("answers HEAD with the length and no body", async () => {
    const head = await get("/", {}, "HEAD");
    expect(head.status).toBe(200);
    expect(head.body).toBe("");
    expect(Number(head.headers["content-length"])).toBe((await get("/")).body.length);
  });

  it.each([
    "/../secret.txt",
    "/..%2fsecret.txt",
    "/%2e%2e/secret.txt",
    "/..%5csecret.txt",
    "/app.js/../../secret.txt",
    "/link.txt",
    "/missing.js",
    "/%00",
    "/%zz",
  ])("does not hand out %s", async (path) => {
    const got = await get(path);
    expect([400, 404]).toContain(got.status);
    expect(got.body).not.toContain("secret\n");
    expect(got.body).not.toBe("secret");
  });
});

describe("who may ask", () => {
  it("refuses a foreign Host", async () => {
    for (const host of ["example.com", `example.com:${server.port}`, "127.0.0.1", "127.0.0.1:1"]) {
      expect((await get("/", { Host: host })).status, host).toBe(403);
    }
    expect((await get("/", { Host: `localhost:${server.port}` })).status).toBe(200);
  });

  it("refuses a foreign Origin, the opaque one too", async () => {
    for (const origin of ["http://example.com", "null", `http://127.0.0.1:${server.port + 1}`]) {
      expect((await get("/field/manifest", { Origin: origin })).status, origin).toBe(403);
    }
    const own = `http://127.0.0.1:${server.port}`;
    expect((await get("/field/manifest", { Origin: own })).status).toBe(200);
  });

  it.each(["POST", "PUT", "DELETE", "PATCH", "OPTIONS"])("refuses %s", async (method) => {
    expect((await get("/", {}, method)).status).toBe(405);
  });
});

describe("the field", () => {
  it("gives the manifest with the field's name", async () => {
    const got = await get("/field/manifest");
    expect(got.headers["content-type"]).toBe("application/json; charset=utf-8");
    expect(JSON.parse(Buffer.from(got.body, "latin1").toString("utf8"))).toEqual({
      name: "Test",
      manifest: { plantingLog: { file: "log é.csv" } },
    });
  });

  it("gives a named file's bytes, its path encoded", async () => {
    const got = await get(`/field/files/${encodeURIComponent("log é.csv")}`);
    expect(got.status).toBe(200);
    expect(got.body).toBe("a,b\n1,2\n");
  });

  it("gives a .shp's siblings whatever their case", async () => {
    expect((await get("/field/files/soil%2FMap.SHP")).body).toBe("Map.SHP");
    expect((await get("/field/files/soil/Map.dbf")).body).toBe("map.dbf");
    expect((await get("/field/files/soil/Map.prj")).body).toBe("map.PRJ");
    expect((await get("/field/files/soil/Map.cpg")).status).toBe(404);
  });

  it.each([
    "/field/files/private.txt",
    "/field/files/soil/map.txt",
    "/field/files/",
    "/field/files/../field/private.txt",
    "/field/files/%2e%2e/secret.txt",
    "/field/other",
  ])("does not hand out %s", async (path) => {
    const got = await get(path);
    expect([400, 404]).toContain(got.status);
    expect(got.body).not.toContain("private\n");
    expect(got.body).not.toBe("private");
  });

  it("says that no field is open where none is, and answers 404 for its files", async () => {
    const got = await get("/field/manifest", {}, "GET", empty);
    expect([got.status, JSON.parse(got.body)]).toEqual([200, null]);
    expect((await get("/field/files/log.csv", {}, "GET", empty)).status).toBe(404);
    expect((await get("/", {}, "GET", empty)).status).toBe(200);
  });
});

/**
 * Serves the page, and the files of one field, to this machine only: 127.0.0.1, reading only, nothing that
 * the manifest does not name. Host and Origin are checked, so that a page of another site cannot reach the
 * server through a name that resolves to this machine.
 */
import { readFile, realpath } from "node:fs/promises";
import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { extname, join, sep } from "node:path";
import { Readable } from "node:stream";
import { pipeline } from "node:stream/promises";
import { isEvenstandError } from "../../errors.ts";
import type { StreamedFile } from "../../ingest/layer.ts";

/** What the page may do: its own scripts, workers and pictures; no other host, no eval, no frame. */
const CONTENT_SECURITY_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "worker-src 'self' blob:",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "font-src 'self' data:",
  "connect-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join("; ");

const CONTENT_TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".mjs": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".json": "application/json; charset=utf-8",
  ".txt": "text/plain; charset=utf-8",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".woff2": "font/woff2",
  ".wasm": "application/wasm",
};

/** A field for the page to open. */
export interface ServedField {
  name: string;
  /** The manifest as JSON. */
  manifest: unknown;
  /** Paths the manifest names; nothing else is handed out, but the siblings of a .shp. */
  paths: readonly string[];
  pieces(path: string): Promise<StreamedFile[]>;
}

export interface ServerOptions {
  /** Folder with the built page. */
  webFolder: string;
  /** 0 takes any free port. */
  port: number;
  field: ServedField | null;
}

export interface RunningServer {
  port: number;
  address: string;
  close(): Promise<void>;
}

const HTTP_PORT = 80;

interface Reply {
  status: number;
  type: string;
  body: Uint8Array | string | StreamedFile;
}

/** Starts the server. Rejects with the error of `listen`, e.g. EADDRINUSE. */
export function startServer(options: ServerOptions): Promise<RunningServer> {
  const server = createServer((request, response) => {
    answer(request, options)
      .catch(() => plainReply(500, "The server met a fault of its own."))
      .then((reply) => send(request, response, reply))
      // A file that shrank while it was sent: the length promised cannot be kept.
      .catch(() => response.destroy());
  });
  return new Promise((resolve, reject) => {
    server.once("error", reject);
    server.listen(options.port, "127.0.0.1", () => {
      const { port } = server.address() as AddressInfo;
      resolve({
        port,
        address: `http://127.0.0.1:${port}/`,
        close: () =>
          new Promise((closed) => {
            server.close(() => closed());
            server.closeAllConnections();
          }),
      });
    });
  });
}

async function answer(request: IncomingMessage, options: ServerOptions): Promise<Reply> {
  const port = request.socket.localPort;
  // A browser leaves the port of http out of the Host.
  const hosts = ["127.0.0.1", "localhost"].flatMap((name) =>
    port === HTTP_PORT ? [name, `${name}:${port}`] : [`${name}:${port}`],
  );
  if (!hosts.includes(request.headers.host ?? "")) return plainReply(403, "Host not accepted.");
  const { origin } = request.headers;
  if (origin !== undefined && !hosts.some((host) => origin === `http://${host}`)) {
    return plainReply(403, "Origin not accepted.");
  }
  if (request.method !== "GET" && request.method !== "HEAD") return plainReply(405, "Reading only.");
  const path = decodedPath(request.url ?? "/");
  if (path === null) return plainReply(400, "Path not readable.");
  if (path === "/field/manifest") return manifestReply(options.field);
  if (path.startsWith("/field/")) return fieldFileReply(path, options.field);
  return pageReply(path, options.webFolder);
}

function manifestReply(field: ServedField | null): Reply {
  // Without a field the question has an answer too: none is open.
  const body = JSON.stringify(field ? { name: field.name, manifest: field.manifest } : null);
  return { status: 200, type: CONTENT_TYPES[".json"]!, body };
}

async function fieldFileReply(path: string, field: ServedField | null): Promise<Reply> {
  const wanted = path.startsWith("/field/files/") ? path.slice("/field/files/".length) : null;
  const named = wanted && field?.paths.find((each) => each === wanted || isSibling(each, wanted));
  if (!field || !wanted || !named) return plainReply(404, "No such file in this field.");
  try {
    const files = await field.pieces(named);
    const file = files.find((each) => each.name.toLowerCase() === wanted.toLowerCase());
    if (!file) return plainReply(404, "No such file in this field.");
    return { status: 200, type: "application/octet-stream", body: file };
  } catch (error) {
    if (isEvenstandError(error)) return plainReply(404, error.message);
    throw error;
  }
}

/** True for the .dbf, .prj ... that goes with a .shp the manifest names. */
function isSibling(named: string, wanted: string): boolean {
  if (!/\.shp$/i.test(named)) return false;
  const stem = (name: string) => name.slice(0, -4).toLowerCase();
  return /\.(shp|shx|dbf|dbt|fpt|prj|cpg)$/i.test(wanted) && stem(named) === stem(wanted);
}

async function pageReply(path: string, webFolder: string): Promise<Reply> {
  const name = path === "/" ? "index.html" : path.slice(1);
  const type = CONTENT_TYPES[extname(name)] ?? "application/octet-stream";
  try {
    const folder = await realpath(webFolder);
    const file = await realpath(join(folder, name));
    if (!file.startsWith(folder + sep)) return plainReply(404, "Not found.");
    return { status: 200, type, body: await readFile(file) };
  } catch {
    return plainReply(404, "Not found.");
  }
}

/** The path of a request decoded once, null where it is malformed or steps upwards. */
function decodedPath(url: string): string | null {
  try {
    const path = decodeURIComponent(url.split(/[?#]/, 1)[0] ?? "");
    const safe = path.startsWith("/") && !path.includes("\0") && !path.includes("\\");
    return safe && !path.split("/").includes("..") ? path : null;
  } catch {
    return null;
  }
}

function plainReply(status: number, text: string): Reply {
  return { status, type: CONTENT_TYPES[".txt"]!, body: `${text}\n` };
}

/** A large file is sent piece by piece, the next one when the last has gone out. */
const PIECE_BYTES = 1 << 20;

async function send(request: IncomingMessage, response: ServerResponse, reply: Reply): Promise<void> {
  const body = typeof reply.body === "string" ? Buffer.from(reply.body) : reply.body;
  response.writeHead(reply.status, {
    "Content-Type": reply.type,
    "Content-Length": body instanceof Uint8Array ? body.length : body.size,
    "Content-Security-Policy": CONTENT_SECURITY_POLICY,
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cache-Control": "no-store",
  });
  if (request.method !== "HEAD") {
    if (body instanceof Uint8Array) response.write(body);
    else await pipeline(Readable.from(piecesOf(body)), response, { end: false });
  }
  response.end();
}

function* piecesOf(file: StreamedFile): Generator<Uint8Array> {
  for (let at = 0; at < file.size; at += PIECE_BYTES) {
    const piece = file.read(at, Math.min(PIECE_BYTES, file.size - at));
    if (piece.length === 0) throw new Error("the file is shorter than it was");
    yield piece.slice();
  }
}

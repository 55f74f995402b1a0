/**
 * The local server behind `tuckline edit`: the page, the editor's own files, and the drawings of one folder.
 *
 *     GET  /                        the page
 *     GET  /editor/… /plugin/…      files of the editor and of the panel
 *     GET  /kept/TAG/editor/…       the same ones, under an address that is theirs alone: the browser keeps them
 *     GET  /api/session             what was opened, its text with it, and what was given on the command line
 *     GET  /api/first/plan          that drawing's plan, made meanwhile: `version` says of which; 204 where there is none
 *     GET  /api/first/look          its picture, as large as fits into `width` and `height` in pixels
 *     GET  /api/demo                the demo crest
 *     GET  /api/drawings            the drawings of the folder
 *     GET  /api/drawings/NAME       one of them: name, text, version
 *     PUT  /api/drawings/NAME       saves; `If-Match: "VERSION"` or `If-None-Match: *` says what was read
 *
 * Everything under /api needs the session's token. Failures come as `{ message, remedy }`.
 */
import { randomBytes } from "node:crypto";
import { readFile } from "node:fs/promises";
import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import { join } from "node:path";
import type { Thread } from "../../core/threads/types.ts";
import { CliError, type Io } from "../io.ts";
import { type FirstPlan, firstPlan } from "./first-plan.ts";
import { type DrawingFile, type DrawingFolder, NameError } from "./folder.ts";
import { SECURITY_HEADERS, showsToken, whyForeign } from "./guard.ts";
import { pageOf } from "./page.ts";
import { type Roots, rootsOf, staticFile, tagOfAll } from "./statics.ts";

export interface EditRequest {
  readonly folder: DrawingFolder;
  /** The drawing to open; `null`: the page offers some. */
  readonly name: string | null;
  /** 0 takes any free port. */
  readonly port: number;
  readonly given: Readonly<Record<string, unknown>>;
  readonly threads: readonly Thread[] | undefined;
  /** The folder of this package's package.json. */
  readonly packageRoot: string;
}

export interface EditServer {
  readonly port: number;
  /** With the token: for the artist's eyes only. */
  readonly url: string;
  readonly token: string;
  /** Lets a write that is under way finish. */
  close(): Promise<void>;
}

/** A drawing larger than this is not taken. */
export const MAX_BODY_BYTES = 32 * 1024 * 1024;

/** May be kept, but is asked for anew each time: another version may be served at the same address the next time. */
const CHECKED = "private, no-cache";

/**
 * What has the tag in its address never changes there. The browser asks for it once, and keeps what it made of it:
 * code compiled, pictures read. (After an answer of 304 it would compile anew.)
 */
const KEPT = "private, max-age=31536000, immutable";
const KEPT_PATH = /^\/kept\/([0-9a-f]+)(\/.*)$/;

const LOOPBACK = "127.0.0.1";

/** @throws CliError where the port cannot be had */
export async function startServer(request: EditRequest, io: Io): Promise<EditServer> {
  const first = firstPlan(request.packageRoot, request);
  const opened = await openedDrawing(request);
  if (opened !== null) first.begin(opened);
  const token = randomBytes(24).toString("base64url");
  const roots = rootsOf(request.packageRoot);
  const tag = await tagOfAll(roots);
  const page = await pageOf(`/kept/${tag}`, roots);
  const server = createServer((asked, answer) => {
    const { port } = server.address() as { port: number };
    respond({ request, roots, tag, page, first, token, port }, asked, answer).catch((error) => {
      if (io.debug) io.stderr.write(`${(error as Error).stack}\n`);
      sendProblem(answer, 500, failureOf(error));
    });
  });
  const port = await listen(server, request.port).catch(async (error) => {
    await first.end();
    throw error;
  });
  return {
    port,
    url: `http://${LOOPBACK}:${port}/#token=${token}`,
    token,
    async close() {
      await request.folder.settled();
      server.closeAllConnections();
      await new Promise((done) => server.close(done));
      await first.end();
    },
  };
}

function listen(server: Server, port: number): Promise<number> {
  return new Promise((resolve, reject) => {
    server.once("error", (error: NodeJS.ErrnoException) => reject(new CliError(whyNoPort(error, port))));
    server.listen(port, LOOPBACK, () => resolve((server.address() as { port: number }).port));
  });
}

function whyNoPort({ code, message }: NodeJS.ErrnoException, port: number): string {
  if (code === "EADDRINUSE")
    return `tuckline: port ${port} is in use; name another with --port, or leave it out for a free one`;
  if (code === "EACCES") return `tuckline: port ${port} may not be used; name one above 1023 with --port`;
  return `tuckline: no server could be started (${code ?? message}); name another port with --port`;
}

interface Serving {
  readonly request: EditRequest;
  readonly roots: Roots;
  /** Of all code and pictures together. */
  readonly tag: string;
  readonly page: string;
  readonly first: FirstPlan;
  readonly token: string;
  readonly port: number;
}

async function respond(serving: Serving, asked: IncomingMessage, answer: ServerResponse): Promise<void> {
  for (const [name, value] of Object.entries(SECURITY_HEADERS)) answer.setHeader(name, value);
  const foreign = whyForeign(asked.headers, serving.port);
  if (foreign !== undefined)
    return sendProblem(answer, 403, { message: foreign, remedy: "Open the address that tuckline printed." });
  const [path] = (asked.url ?? "/").split("?");
  if (path.startsWith("/api/")) return respondApi(serving, path, asked, answer);
  if (asked.method !== "GET" && asked.method !== "HEAD") return sendNotAllowed(answer, "GET, HEAD");
  if (path === "/") return send(answer, 200, "text/html; charset=utf-8", serving.page);
  return sendFile(serving, path, asked, answer);
}

async function sendFile(
  { roots, tag }: Serving,
  path: string,
  asked: IncomingMessage,
  answer: ServerResponse,
): Promise<void> {
  const [, named, within] = KEPT_PATH.exec(path) ?? [];
  const takesBrotli = /\bbr\b/.test(String(asked.headers["accept-encoding"] ?? ""));
  const file = await staticFile(roots, within ?? path, takesBrotli);
  if (file === undefined) return sendMissing(answer);
  answer.setHeader("Cache-Control", named === tag ? KEPT : CHECKED);
  answer.setHeader("ETag", file.tag);
  answer.setHeader("Vary", "Accept-Encoding");
  if (asked.headers["if-none-match"] === file.tag) return void answer.writeHead(304).end();
  if (file.isBrotli) answer.setHeader("Content-Encoding", "br");
  return send(answer, 200, file.type, await file.read());
}

const DRAWINGS = "/api/drawings";

async function respondApi(
  { request, first, token }: Serving,
  path: string,
  asked: IncomingMessage,
  answer: ServerResponse,
): Promise<void> {
  if (!showsToken(asked.headers, token))
    return sendProblem(answer, 401, {
      message: "This page does not belong to the running session.",
      remedy: "Open the address that tuckline printed last.",
    });
  const isDrawing = path.startsWith(`${DRAWINGS}/`);
  const methods = isDrawing ? ["GET", "PUT"] : ["GET"];
  if (!methods.includes(asked.method ?? "")) return sendNotAllowed(answer, methods.join(", "));
  if (isDrawing) {
    const name = decodedName(path.slice(DRAWINGS.length + 1));
    if (name === undefined) return sendMissing(answer);
    return asked.method === "GET"
      ? sendDrawing(request, name, answer)
      : takeDrawing(request, name, asked, answer);
  }
  if (path === DRAWINGS) return sendJson(answer, 200, await request.folder.list());
  if (path === "/api/session") {
    const drawing = await openedDrawing(request);
    if (drawing !== null) first.begin(drawing);
    return sendJson(answer, 200, {
      name: request.name,
      drawing,
      folder: request.folder.path,
      given: request.given,
      threads: request.threads,
    });
  }
  if (path.startsWith("/api/first/")) return sendFirst(first, asked.url ?? "", answer);
  if (path === "/api/demo") {
    const text = await readFile(join(request.packageRoot, "fixtures", "heron-crest.svg"), "utf8");
    return sendJson(answer, 200, { name: "heron-crest.svg", text });
  }
  return sendMissing(answer);
}

/** Larger pictures are for no screen. */
const MOST_PX = 8192;

async function sendFirst(first: FirstPlan, url: string, answer: ServerResponse): Promise<void> {
  const { pathname, searchParams: asked } = new URL(url, `http://${LOOPBACK}`);
  const version = asked.get("version") ?? "";
  const [width, height] = ["width", "height"].map((name) => Number(asked.get(name) ?? Number.NaN));
  const isLook = pathname === "/api/first/look" && isPx(width) && isPx(height);
  if (!isLook && pathname !== "/api/first/plan") return sendMissing(answer);
  const bytes = await (isLook ? first.look(version, width, height) : first.plan(version));
  // Nothing went wrong, and a browser would write a 404 down as an error.
  if (bytes === null) return void answer.writeHead(204).end();
  return send(answer, 200, "application/octet-stream", bytes);
}

const isPx = (value: number): boolean => value >= 1 && value <= MOST_PX;

/** Why it cannot be read is said to whoever asks for that drawing itself. */
const openedDrawing = async ({ name, folder }: EditRequest): Promise<DrawingFile | null> =>
  name === null ? null : folder.read(name).catch(() => null);

function decodedName(part: string): string | undefined {
  try {
    return decodeURIComponent(part);
  } catch {
    return undefined;
  }
}

async function sendDrawing({ folder }: EditRequest, name: string, answer: ServerResponse): Promise<void> {
  try {
    sendJson(answer, 200, await folder.read(name));
  } catch (error) {
    sendProblem(answer, error instanceof NameError ? 403 : 404, failureOf(error));
  }
}

async function takeDrawing(
  { folder }: EditRequest,
  name: string,
  asked: IncomingMessage,
  answer: ServerResponse,
): Promise<void> {
  const type = (asked.headers["content-type"] ?? "").replace(/\s/g, "").toLowerCase();
  if (type !== "image/svg+xml" && type !== "image/svg+xml;charset=utf-8")
    return refuseBody(asked, answer, 415, "Only SVG drawings are saved here.", "Send image/svg+xml.");
  const read = versionRead(asked);
  if (read === undefined)
    return refuseBody(asked, answer, 428, "It is not said which version was read.", "Send If-Match.");
  const body = await bodyOf(asked);
  if (body === "too large")
    return refuseBody(asked, answer, 413, "The drawing is larger than 32 MB.", "Simplify the drawing.");
  const text = utf8(body);
  if (text === undefined)
    return sendProblem(answer, 400, {
      message: "This is not UTF-8 text.",
      remedy: "Send the drawing as text.",
    });
  try {
    const written = await folder.write(name, text, read);
    if (written.kind === "written") return sendJson(answer, 200, { name, version: written.version });
    sendJson(answer, 409, {
      message: `${name} was changed by another program.`,
      remedy: "Save it under another name, or open it again.",
      version: written.version,
    });
  } catch (error) {
    sendProblem(answer, error instanceof NameError ? 403 : 507, failureOf(error));
  }
}

/** The version that was read, by the conditional headers of HTTP; `null`: none; undefined where neither is there. */
function versionRead({ headers }: IncomingMessage): string | null | undefined {
  if (headers["if-none-match"] === "*") return null;
  return /^"([0-9a-f]{64})"$/.exec(headers["if-match"] ?? "")?.[1];
}

async function bodyOf(asked: IncomingMessage): Promise<Buffer | "too large"> {
  if (Number(asked.headers["content-length"]) > MAX_BODY_BYTES) return "too large";
  const chunks: Buffer[] = [];
  let size = 0;
  for await (const chunk of asked.iterator({ destroyOnReturn: false })) {
    size += chunk.length;
    if (size > MAX_BODY_BYTES) return "too large";
    chunks.push(chunk);
  }
  return Buffer.concat(chunks);
}

function utf8(bytes: Buffer): string | undefined {
  try {
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return undefined;
  }
}

interface Problem {
  readonly message: string;
  readonly remedy: string;
}

/** A command's line, `file: what is wrong; what to do`, as the page shows it. */
function failureOf(error: unknown): Problem {
  if (!(error instanceof CliError)) return { message: "The server failed at this.", remedy: "Try it again." };
  const cut = error.message.lastIndexOf("; ");
  const remedy = cut < 0 ? "" : error.message.slice(cut + 2);
  return {
    message: `${cut < 0 ? error.message : error.message.slice(0, cut)}.`,
    remedy: remedy === "" ? "" : `${remedy[0].toUpperCase()}${remedy.slice(1)}.`,
  };
}

function send(answer: ServerResponse, status: number, type: string, body: string | Uint8Array): void {
  const bytes = Buffer.from(body as string);
  answer.writeHead(status, { "Content-Type": type, "Content-Length": bytes.length });
  answer.end(answer.req.method === "HEAD" ? undefined : bytes);
}

const sendJson = (answer: ServerResponse, status: number, value: unknown): void =>
  send(answer, status, "application/json", JSON.stringify(value));

function sendProblem(answer: ServerResponse, status: number, problem: Problem): void {
  if (answer.headersSent) answer.destroy();
  else sendJson(answer, status, problem);
}

const sendMissing = (answer: ServerResponse): void =>
  sendProblem(answer, 404, {
    message: "There is nothing here.",
    remedy: "Open the address that was printed.",
  });

function sendNotAllowed(answer: ServerResponse, methods: string): void {
  answer.setHeader("Allow", methods);
  sendProblem(answer, 405, { message: "This is not done here.", remedy: `Use ${methods}.` });
}

/** The rest of the body is not waited for: the connection ends. */
function refuseBody(
  asked: IncomingMessage,
  answer: ServerResponse,
  status: number,
  message: string,
  remedy: string,
): void {
  answer.setHeader("Connection", "close");
  sendProblem(answer, status, { message, remedy });
  asked.resume();
}

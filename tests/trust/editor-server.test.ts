/** The server behind `tuckline edit`, by bytes on a socket: what no browser would send, and no client should. */
import { readdir, readFile, rm, symlink } from "node:fs/promises";
import { connect, type Socket } from "node:net";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { DrawingFolder } from "../../cli/edit/folder.ts";
import type { EditServer } from "../../cli/edit/server.ts";
import { FEATHER, openClub, silentIo } from "../support/club-server.ts";

const io = silentIo();

let outside = "";
let folder = "";
let server: EditServer;
let isClosed = false;

beforeEach(async () => {
  ({ outside, folder, server } = await openClub());
  isClosed = false;
});

afterEach(async () => {
  if (!isClosed) await server.close();
  await rm(outside, { recursive: true, force: true });
});

/** A connection on which some bytes were sent. */
function dial(bytes: string): Promise<Socket> {
  return new Promise((resolve, reject) => {
    const socket = connect({ host: "127.0.0.1", port: server.port }, () =>
      socket.write(bytes, () => resolve(socket)),
    );
    socket.once("error", reject);
  });
}

/** Sends a request as it stands; resolves to all that comes back until the server ends the connection. */
async function ask(bytes: string): Promise<string> {
  const socket = await dial(bytes);
  let answer = "";
  for await (const chunk of socket) answer += chunk;
  return answer;
}

const host = () => `Host: 127.0.0.1:${server.port}\r\n`;
const token = () => `X-Tuckline-Token: ${server.token}\r\n`;
const CLOSE = "Connection: close\r\n\r\n";
const statusOf = (answer: string): number => Number(/^HTTP\/1\.1 (\d+)/.exec(answer)?.[1]);
const onDisk = () => readFile(join(folder, "crest.svg"), "utf8");

/** The beginning of a save whose body is said to be longer than it is. */
const halfSave = (body: string) =>
  `PUT /api/drawings/crest.svg HTTP/1.1\r\n${host()}${token()}Content-Type: image/svg+xml\r\nIf-None-Match: *\r\nContent-Length: ${body.length * 2}\r\n\r\n${body}`;

describe("requests that never end", () => {
  it("keep nobody else waiting, and are cut off when the session ends", async () => {
    const halves = await Promise.all(
      Array.from({ length: 40 }, (_, k) =>
        dial(k % 2 === 0 ? `GET / HTTP/1.1\r\n${host()}X-Oar: ` : halfSave(FEATHER)),
      ),
    );
    const ends = halves.map((socket) => new Promise((done) => socket.on("error", done).on("close", done)));
    expect(statusOf(await ask(`GET / HTTP/1.1\r\n${host()}${CLOSE}`))).toBe(200);
    await server.close();
    isClosed = true;
    await Promise.all(ends);
    expect(await onDisk()).toBe(FEATHER);
  });

  it("save nothing of a drawing that comes by half", async () => {
    const socket = await dial(halfSave(FEATHER.slice(0, 40)));
    socket.destroy();
    expect(statusOf(await ask(`GET / HTTP/1.1\r\n${host()}${CLOSE}`))).toBe(200);
    expect(await onDisk()).toBe(FEATHER);
    expect(await readdir(folder)).toEqual(["crest.svg"]);
  });
});

describe("requests that are no requests", () => {
  it.each([
    ["no HTTP at all", () => "\x16\x03\x01\x02\x00\x01\x00\r\n\r\n", 400],
    ["no host (HTTP/1.0)", () => "GET / HTTP/1.0\r\n\r\n", 403],
    ["an empty host", () => `GET / HTTP/1.1\r\nHost: \r\n${CLOSE}`, 403],
    ["another host before ours", () => `GET / HTTP/1.1\r\nHost: evil.example\r\n${host()}${CLOSE}`, 403],
    ["another host in the target", () => `GET http://evil.example/ HTTP/1.1\r\n${host()}${CLOSE}`, 404],
    ["headers without end", () => `GET / HTTP/1.1\r\n${host()}X-Oar: ${"x".repeat(40_000)}\r\n${CLOSE}`, 431],
    [
      "two lengths (RFC 9112, 6.3: request smuggling)",
      () =>
        `PUT /api/drawings/crest.svg HTTP/1.1\r\n${host()}${token()}Content-Length: 3\r\nTransfer-Encoding: chunked\r\n${CLOSE}0\r\n\r\n`,
      400,
    ],
    [
      "another protocol (a web socket)",
      () =>
        `GET / HTTP/1.1\r\n${host()}Upgrade: websocket\r\nConnection: close, Upgrade\r\nOrigin: https://evil.example\r\n\r\n`,
      403,
    ],
    ["a tunnel", () => `CONNECT evil.example:443 HTTP/1.1\r\n${host()}\r\n`, Number.NaN],
  ])("%s", async (_what, bytes, status) => {
    const answer = await ask(bytes());
    expect(statusOf(answer)).toBe(status);
    expect(answer).not.toContain("feather");
    expect(await onDisk()).toBe(FEATHER);
  });
});

describe("what lies in the editor's own folder", () => {
  it.each([
    "index.html",
    "iife-index.html",
    "xdomain-index.html",
    "extensions/ext-storage/storageDialog.html",
    "Editor.js.map",
  ])("%s is not served: a link from elsewhere could open it with a drawing of its own", async (name) => {
    const asked = `GET /editor/${name}?source=data:image/svg+xml,x HTTP/1.1\r\n${host()}Sec-Fetch-Site: cross-site\r\nSec-Fetch-Mode: navigate\r\nSec-Fetch-Dest: document\r\n${CLOSE}`;
    expect(statusOf(await ask(asked))).toBe(404);
  });
});

describe("saves beside one another", { timeout: 20_000 }, () => {
  /** Two sessions are two processes: neither knows of the other. */
  it("of two sessions with one folder: one is done, the others are told", async () => {
    const others = await Promise.all(Array.from({ length: 6 }, () => DrawingFolder.at(folder, io)));
    const drawings = others.map((_, k) => FEATHER.replace("feather", `feather-${k}`));
    const made = await Promise.all(others.map((other, k) => other.write("new.svg", drawings[k], null)));
    const winners = made.flatMap(({ kind }, k) => (kind === "written" ? [k] : []));
    expect(winners).toHaveLength(1);
    expect(await readFile(join(folder, "new.svg"), "utf8")).toBe(drawings[winners[0]]);
    expect((await readdir(folder)).sort()).toEqual(["crest.svg", "new.svg"]);
  });

  it("through a link inside the folder reach the drawing, and the link stays", async () => {
    await symlink("crest.svg", join(folder, "link.svg"));
    const own = await DrawingFolder.at(folder, io);
    const { version } = await own.read("link.svg");
    const changed = FEATHER.replace("feather", "reed");
    expect((await own.write("link.svg", changed, version)).kind).toBe("written");
    expect(await onDisk()).toBe(changed);
    expect((await own.write("crest.svg", FEATHER, version)).kind).toBe("changed");
  });
});

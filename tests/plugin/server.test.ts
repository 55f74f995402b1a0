/** The server behind `tuckline edit`: whom it answers, which files it touches, and how it writes them. */
import { createHash } from "node:crypto";
import { mkdir, readdir, readFile, rm, symlink, writeFile } from "node:fs/promises";
import { request as httpRequest, type IncomingHttpHeaders } from "node:http";
import { connect } from "node:net";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { DrawingFolder } from "../../cli/edit/folder.ts";
import { type EditServer, MAX_BODY_BYTES } from "../../cli/edit/server.ts";
import { packageRoot } from "../../cli/package-root.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { pictureOfBytes, planOfBytes } from "../../plugin/worker/carry.ts";
import { unpackPlan } from "../../plugin/worker/pack.ts";
import { FEATHER, openClub, serveFolder, silentIo } from "../support/club-server.ts";

const PENNANT = FEATHER.replace("feather", "pennant");

const io = silentIo();

let outside = "";
let folder = "";
let server: EditServer;

beforeEach(async () => {
  ({ outside, folder, server } = await openClub());
  await writeFile(join(outside, "secret.svg"), PENNANT);
});

afterEach(async () => {
  await server.close();
  await rm(outside, { recursive: true, force: true });
});

interface Answer {
  readonly status: number;
  readonly headers: IncomingHttpHeaders;
  readonly body: string;
  readonly json: Record<string, unknown>;
}

interface Asked {
  readonly method?: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string | Buffer;
}

/** A request as it is, without what a browser would make of its path or headers. */
function ask(path: string, { method = "GET", headers = {}, body }: Asked = {}): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const asked = httpRequest(
      { host: "127.0.0.1", port: server.port, path, method, headers: { ...headers } },
      (answer) => {
        const chunks: Buffer[] = [];
        answer.on("data", (chunk) => chunks.push(chunk));
        answer.on("end", () => {
          const text = Buffer.concat(chunks).toString();
          const isJson = answer.headers["content-type"] === "application/json";
          resolve({
            status: answer.statusCode ?? 0,
            headers: answer.headers,
            body: text,
            json: isJson ? JSON.parse(text) : {},
          });
        });
      },
    );
    asked.on("error", reject);
    asked.end(body);
  });
}

const withToken = (headers: Readonly<Record<string, string>> = {}) => ({
  "X-Tuckline-Token": server.token,
  ...headers,
});

const sha256 = (text: string | Buffer): string => createHash("sha256").update(text).digest("hex");

const save = (name: string, body: string | Buffer, condition: Readonly<Record<string, string>>) =>
  ask(`/api/drawings/${name}`, {
    method: "PUT",
    headers: withToken({ "Content-Type": "image/svg+xml", ...condition }),
    body,
  });

const ifRead = (text: string): Readonly<Record<string, string>> => ({ "If-Match": `"${sha256(text)}"` });
const asNew = { "If-None-Match": "*" };

describe("whom the server answers", () => {
  it("serves the page and the editor to a plain visit, and nothing that may be kept or framed", async () => {
    const page = await ask("/");
    expect(page.status).toBe(200);
    expect(page.body).toContain("/plugin/svgedit-host.js");
    // OWASP Secure Headers Project: what a page that shows files of its user should send (from memory).
    expect(page.headers).toMatchObject({
      "cache-control": "no-store",
      "x-content-type-options": "nosniff",
      "cross-origin-opener-policy": "same-origin",
      "cross-origin-embedder-policy": "require-corp",
      "referrer-policy": "no-referrer",
    });
    expect(page.headers["content-security-policy"]).toMatch(/script-src 'self';.*frame-ancestors 'none'/);
    expect((await ask("/editor/svgedit.css")).headers["content-type"]).toContain("text/css");
  });

  it("lets code be kept, and asked for anew: by the entity tag that it had (RFC 9110, 13.1.2)", async () => {
    for (const path of ["/editor/svgedit.css", "/plugin/worker.js"]) {
      const { headers, body } = await ask(path, { headers: { "Accept-Encoding": "br" } });
      expect(headers["cache-control"]).toBe("private, no-cache");
      expect(body.length).toBeGreaterThan(1000);
      const same = await ask(path, {
        headers: { "Accept-Encoding": "br", "If-None-Match": String(headers.etag) },
      });
      expect(same).toMatchObject({ status: 304, body: "" });
      const other = await ask(path, { headers: { "Accept-Encoding": "br", "If-None-Match": '"other"' } });
      expect(other.status).toBe(200);
    }
  });

  it("names code by what it is, to be kept for good: every address in the page is there, compiled once", async () => {
    const { body } = await ask("/");
    const base = /<base href="([^"]+)">/.exec(body)?.[1] ?? "";
    const addresses = [...body.matchAll(/(?:src|href)="([^"]+\.\w+)"/g)].map(
      ([, name]) => new URL(name, `http://here${base}`).pathname,
    );
    expect(addresses.length).toBeGreaterThan(6);
    for (const address of addresses) {
      const { status, headers } = await ask(address);
      expect(status, address).toBe(200);
      expect(headers["cache-control"], address).toBe("private, max-age=31536000, immutable");
    }
    // Under another tag, that of another version, it is not what was meant.
    const elsewhere = addresses[0].replace(/^\/kept\/[0-9a-f]+/, "/kept/0123456789abcdef");
    expect(elsewhere).not.toBe(addresses[0]);
    expect((await ask(elsewhere)).headers["cache-control"]).toBe("private, no-cache");
    // Modules name their own parts in turn; the page has named them all ahead.
    const host = await ask(addresses.find((address) => address.endsWith("svgedit-host.js")) ?? "");
    for (const [, part] of host.body.matchAll(/from"\.\/([^"]+)"/g)) expect(body).toContain(part);
  });

  it("hands the drawing that was named over with the session; one that cannot be read, not", async () => {
    const session = async () => (await ask("/api/session", { headers: withToken() })).json;
    expect(await session()).toMatchObject({
      name: "crest.svg",
      drawing: { name: "crest.svg", text: FEATHER, version: sha256(FEATHER) },
    });
    await rm(join(folder, "crest.svg"));
    expect(await session()).toMatchObject({ name: "crest.svg", drawing: null });
  });

  it("writes no handler into the page, and nothing from elsewhere", async () => {
    const { body } = await ask("/");
    expect(body).not.toMatch(/\son[a-z]+=|https?:/);
  });

  it("is reached on this machine's own address only", async () => {
    const refused = await new Promise((resolve) => {
      const socket = connect({ host: "127.0.0.2", port: server.port });
      socket.on("connect", () => resolve("reached"));
      socket.on("error", () => resolve("refused"));
    });
    expect(refused).toBe("refused");
  });

  it.each(["evil.example", "evil.example:80", "127.0.0.1.nip.example", "127.0.0.1", "0.0.0.0:1"])(
    "refuses the host name %s, which somebody else made to point here",
    async (host) => {
      for (const path of ["/", "/api/drawings/crest.svg"]) {
        const answer = await ask(path, { headers: withToken({ Host: host }) });
        expect(answer.status).toBe(403);
        expect(answer.body).not.toContain("feather");
      }
    },
  );

  it("answers to localhost too", async () => {
    expect((await ask("/", { headers: { Host: `localhost:${server.port}` } })).status).toBe(200);
  });

  it.each(["https://evil.example", "null", "http://127.0.0.1:1", "http://localhost"])(
    "refuses the origin %s, even with the token",
    async (origin) => {
      const headers = withToken({ Origin: origin, "Content-Type": "image/svg+xml", ...ifRead(FEATHER) });
      const answer = await ask("/api/drawings/crest.svg", { method: "PUT", headers, body: PENNANT });
      expect(answer.status).toBe(403);
      expect(answer.headers["access-control-allow-origin"]).toBeUndefined();
      expect(await readFile(join(folder, "crest.svg"), "utf8")).toBe(FEATHER);
    },
  );

  it("gives no leave to a page of another origin that asks beforehand", async () => {
    const answer = await ask("/api/drawings/crest.svg", {
      method: "OPTIONS",
      headers: { Origin: "https://evil.example", "Access-Control-Request-Method": "PUT" },
    });
    expect(answer.status).toBe(403);
    expect(answer.headers["access-control-allow-origin"]).toBeUndefined();
  });

  it("refuses what another site has the browser fetch, by the browser's own word", async () => {
    const headers = withToken({ "Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "no-cors" });
    expect((await ask("/plugin/page.css", { headers })).status).toBe(403);
  });

  it.each([
    ["none", {}],
    ["a wrong one", { "X-Tuckline-Token": "x".repeat(32) }],
    ["a part of it", { "X-Tuckline-Token": "short" }],
  ])("shows no drawing for the token: %s", async (_what, headers) => {
    for (const path of ["/api/session", "/api/demo", "/api/drawings", "/api/drawings/crest.svg"]) {
      const answer = await ask(path, { headers: headers as Record<string, string> });
      expect(answer.status).toBe(401);
      expect(answer.json.remedy).toBe("Open the address that tuckline printed last.");
    }
  });

  it("does not take the token from the address, where it would be written down", async () => {
    expect((await ask(`/api/drawings?token=${server.token}`)).status).toBe(401);
  });

  it.each(["POST", "DELETE", "PATCH"])("does nothing for %s", async (method) => {
    const answer = await ask("/api/drawings/crest.svg", { method, headers: withToken() });
    expect(answer.status).toBe(405);
    expect(answer.headers.allow).toBe("GET, PUT");
  });
});

describe("which files the server touches", () => {
  it("lists the folder's drawings, newest first, and nothing else that lies there", async () => {
    await writeFile(join(folder, "notes.txt"), "oars");
    await writeFile(join(folder, ".hidden.svg"), FEATHER);
    await mkdir(join(folder, "old.svg"));
    await symlink(join(outside, "secret.svg"), join(folder, "link.svg"));
    const { json } = await ask("/api/drawings", { headers: withToken() });
    expect((json as unknown as { name: string }[]).map(({ name }) => name)).toEqual(["crest.svg"]);
  });

  it("reads a drawing with the version that a save must name", async () => {
    const { json } = await ask("/api/drawings/crest.svg", { headers: withToken() });
    expect(json).toEqual({ name: "crest.svg", text: FEATHER, version: sha256(FEATHER) });
  });

  it.each([
    "../secret.svg",
    "..%2fsecret.svg",
    "..%2Fsecret.svg",
    "%2e%2e%2fsecret.svg",
    "..%5csecret.svg",
    "%2fetc%2fpasswd.svg",
    "club%2fcrest.svg",
    "%00.svg",
    "crest.svg%00.txt",
    "%ff.svg",
  ])("finds no way out of the folder by %s", async (name) => {
    const read = await ask(`/api/drawings/${name}`, { headers: withToken() });
    expect(read.status).toBeGreaterThanOrEqual(403);
    expect(read.body).not.toContain("pennant");
    const write = await save(name, FEATHER, asNew);
    expect(write.status).toBeGreaterThanOrEqual(403);
    expect(await readFile(join(outside, "secret.svg"), "utf8")).toBe(PENNANT);
    expect((await readdir(outside)).sort()).toEqual(["club", "secret.svg"]);
  });

  it("follows no link that leads out of the folder", async () => {
    await symlink(join(outside, "secret.svg"), join(folder, "link.svg"));
    await symlink(join(outside, "made-up.svg"), join(folder, "dangling.svg"));
    const read = await ask("/api/drawings/link.svg", { headers: withToken() });
    expect([read.status, read.json.message]).toEqual([403, "link.svg: this link leads out of the folder."]);
    expect((await save("link.svg", FEATHER, ifRead(PENNANT))).status).toBe(403);
    expect((await save("dangling.svg", FEATHER, asNew)).status).toBe(403);
    expect((await readdir(outside)).sort()).toEqual(["club", "secret.svg"]);
  });

  it.each(["crest.html", "crest", ".crest.svg", `${"x".repeat(300)}.svg`, "C:crest.svg"])(
    "saves no file called %s",
    async (name) => {
      expect((await save(encodeURIComponent(name), FEATHER, asNew)).status).toBe(403);
      expect(await readdir(folder)).toEqual(["crest.svg"]);
    },
  );

  it.each([
    "/editor/../../package.json",
    "/kept/0123456789abcdef/editor/../../../package.json",
    "/kept/0123456789abcdef/api/session",
    "/editor/%2e%2e/package.json",
    "/plugin/..%2f..%2fpackage.json",
    "/plugin//etc/passwd",
    "/editor/.git/config.json",
    "/package.json",
    "/fixtures/heron-crest.svg",
  ])("serves nothing beside the editor and the panel: %s", async (path) => {
    expect((await ask(path)).status).toBe(404);
  });

  it("brings the demo crest along", async () => {
    const { json } = await ask("/api/demo", { headers: withToken() });
    expect(json.text).toBe(await readFile(join(packageRoot(), "fixtures/heron-crest.svg"), "utf8"));
  });
});

describe("how the server writes", () => {
  it("saves, and says the new version", async () => {
    const answer = await save("crest.svg", PENNANT, ifRead(FEATHER));
    expect([answer.status, answer.json.version]).toEqual([200, sha256(PENNANT)]);
    expect(await readFile(join(folder, "crest.svg"), "utf8")).toBe(PENNANT);
    expect(await readdir(folder)).toEqual(["crest.svg"]);
  });

  it("saves under a new name, but never over a drawing that it was not told of", async () => {
    expect((await save("oars%20%26%20r%C3%A9eds.svg", PENNANT, asNew)).status).toBe(200);
    expect(await readFile(join(folder, "oars & réeds.svg"), "utf8")).toBe(PENNANT);
    expect((await save("crest.svg", PENNANT, asNew)).status).toBe(409);
    expect(await readFile(join(folder, "crest.svg"), "utf8")).toBe(FEATHER);
  });

  it("notices that another program changed the file, and leaves it", async () => {
    const elsewhere = FEATHER.replace("M4 4", "M5 5");
    await writeFile(join(folder, "crest.svg"), elsewhere);
    const answer = await save("crest.svg", PENNANT, ifRead(FEATHER));
    expect([answer.status, answer.json.version]).toEqual([409, sha256(elsewhere)]);
    expect(await readFile(join(folder, "crest.svg"), "utf8")).toBe(elsewhere);
  });

  it("notices that the file is gone", async () => {
    await rm(join(folder, "crest.svg"));
    const answer = await save("crest.svg", PENNANT, ifRead(FEATHER));
    expect([answer.status, answer.json.version]).toEqual([409, null]);
    expect(await readdir(folder)).toEqual([]);
  });

  it("lets one of many that save at once win, whole, and tells the others", async () => {
    const bodies = Array.from({ length: 12 }, (_, k) =>
      FEATHER.replace("feather", `feather-${k}`).repeat(1 + k),
    );
    const answers = await Promise.all(bodies.map((body) => save("crest.svg", body, ifRead(FEATHER))));
    const winners = answers.flatMap(({ status }, k) => (status === 200 ? [k] : []));
    expect(winners).toHaveLength(1);
    expect(answers.filter(({ status }) => status === 409)).toHaveLength(11);
    expect(await readFile(join(folder, "crest.svg"), "utf8")).toBe(bodies[winners[0]]);
    expect(await readdir(folder)).toEqual(["crest.svg"]);
  });

  it("keeps the encoding that a file came in", async () => {
    const declared = `<?xml version="1.0" encoding="ISO-8859-1"?>${FEATHER.replace("feather", "fjäder")}`;
    const bytes = Buffer.from(declared, "latin1");
    await writeFile(join(folder, "crest.svg"), bytes);
    const { json } = await ask("/api/drawings/crest.svg", { headers: withToken() });
    expect(json.text).toBe(declared);
    const changed = declared.replace("fjäder", "fjäder→");
    expect((await save("crest.svg", changed, { "If-Match": `"${json.version}"` })).status).toBe(200);
    const saved = (await readFile(join(folder, "crest.svg"))).toString("latin1");
    expect(saved).toBe(declared.replace("fjäder", "fjäder&#8594;"));
  });

  it("wants to know which version was read, and SVG as the type", async () => {
    expect((await save("crest.svg", PENNANT, {})).status).toBe(428);
    expect((await save("crest.svg", PENNANT, { "If-Match": "*" })).status).toBe(428);
    // What a form of another page could send without asking beforehand (Fetch standard, "CORS-safelisted").
    for (const type of ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data"])
      expect((await save("crest.svg", PENNANT, { ...ifRead(FEATHER), "Content-Type": type })).status).toBe(
        415,
      );
    expect((await save("crest.svg", Buffer.from([0xff, 0xfe, 0xff]), ifRead(FEATHER))).status).toBe(400);
    expect(await readFile(join(folder, "crest.svg"), "utf8")).toBe(FEATHER);
  });

  it("takes nothing above 32 MB, whether the size is told beforehand or not", async () => {
    const told = await ask("/api/drawings/crest.svg", {
      method: "PUT",
      headers: withToken({
        "Content-Type": "image/svg+xml",
        "Content-Length": String(MAX_BODY_BYTES + 1),
        ...ifRead(FEATHER),
      }),
    }).catch(({ code }) => ({ status: code === "ECONNRESET" ? 413 : 0 }));
    expect(told.status).toBe(413);
    const big = Buffer.alloc(MAX_BODY_BYTES + 1, " ");
    const untold = await ask("/api/drawings/crest.svg", {
      method: "PUT",
      headers: withToken({
        "Content-Type": "image/svg+xml",
        "Transfer-Encoding": "chunked",
        ...ifRead(FEATHER),
      }),
      body: big,
    });
    expect(untold.status).toBe(413);
    expect(await readFile(join(folder, "crest.svg"), "utf8")).toBe(FEATHER);
  });

  it("says what is wrong with a folder that may not be written to, or is gone", async () => {
    await rm(folder, { recursive: true });
    await writeFile(folder, "a file in its place");
    const answer = await save("crest.svg", PENNANT, asNew);
    expect(answer.status).toBeGreaterThanOrEqual(403);
    expect(`${answer.json.message} ${answer.json.remedy}`).toMatch(/^crest\.svg: .+\. [A-Z].+\.$/);
    await rm(folder);
    await mkdir(folder);
  });

  it("says so where nobody may write, not even root", async () => {
    // Linux: the kernel's own file system takes no new files.
    const kernel = await DrawingFolder.at("/sys/kernel", io);
    await expect(kernel.write("crest.svg", FEATHER, null)).rejects.toThrow(
      "crest.svg: this folder may not be written to; name an output elsewhere",
    );
  });
});

describe("the first plan", { timeout: 60_000 }, () => {
  const opened = async () => {
    const { json } = await ask("/api/session", { headers: withToken() });
    return (json.drawing as { version: string }).version;
  };
  const bytesOf = async (path: string) => {
    const answer = await fetch(`http://127.0.0.1:${server.port}${path}`, { headers: withToken() });
    return answer.arrayBuffer();
  };
  const statusOf = async (path: string) => (await ask(path, { headers: withToken() })).status;

  it("is that of the drawing that was opened, for who shows the token", async () => {
    const path = `/api/first/plan?version=${await opened()}`;
    const { plan } = planOfBytes(await bytesOf(path));
    expect(unpackPlan(plan)).toEqual(makePlan(FEATHER, "crest.svg", DEFAULT_SETTINGS));
    expect((await ask(path)).status).toBe(401);
  });

  it("has a picture, no larger than is asked for", async () => {
    const path = `/api/first/look?version=${await opened()}&width=120&height=60`;
    const { width, height, pixels } = pictureOfBytes(await bytesOf(path));
    expect([width, height, pixels.length]).toEqual([60, 60, 4 * 60 * 60]);
  });

  it("is no longer there when the file is another, until the session is asked for again", async () => {
    const before = await opened();
    await writeFile(join(folder, "crest.svg"), PENNANT);
    const after = await opened();
    expect(after).not.toBe(before);
    expect(await statusOf(`/api/first/plan?version=${before}`)).toBe(204);
    expect(await statusOf(`/api/first/plan?version=${after}`)).toBe(200);
  });

  it("is not there for a drawing that cannot be planned", async () => {
    await writeFile(join(folder, "crest.svg"), "<svg");
    const path = `/api/first/plan?version=${await opened()}`;
    expect(await statusOf(path)).toBe(204);
    expect(await statusOf("/api/first/plan")).toBe(204);
  });

  it.each(["look", "look?width=0&height=9", "look?width=9&height=1e9", "oar"])(
    "is not there for /api/first/%s",
    async (asked) => {
      expect(await statusOf(`/api/first/${asked}`)).toBe(404);
    },
  );
});

describe("the port", () => {
  it("says so where it is in use", async () => {
    const again = serveFolder(folder, null, server.port);
    await expect(again).rejects.toThrow(
      `tuckline: port ${server.port} is in use; name another with --port, or leave it out for a free one`,
    );
  });
});

/**
 * The package as users get it: packed, installed from the tarball into an empty folder, and run there. It takes its
 * dependencies from the registry or npm's own cache, so it is no part of `npm test`: `npm run pack-test`.
 */
import { execFile, spawn } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { homedir, tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { promisify } from "node:util";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { packageRoot } from "../../cli/package-root.ts";
import { VERSION } from "../../cli/version.ts";

const root = packageRoot();
const folder = mkdtempSync(join(tmpdir(), "tuckline-pack-"));
const packed = join(folder, "node_modules", "tuckline");
const COMMAND = join(packed, "build", "bin", "tuckline.js");

/** What the program prints. Where it fails, the error tells what it printed until then. */
const inFolder = async (program: string, words: readonly string[], cwd = folder): Promise<string> => {
  try {
    return (await promisify(execFile)(program, words, { cwd, maxBuffer: 2 ** 26 })).stdout;
  } catch (error) {
    const { message, stdout } = error as Error & { stdout: string };
    throw new Error(`${message}\n${stdout}`);
  }
};
const npm = (words: string, cwd?: string) => inFolder("npm", words.split(" "), cwd);
const tuckline = (words: string) => inFolder("npx", ["--no-install", "tuckline", ...words.split(" ")]);

beforeAll(async () => {
  // The build stands already: `npm run pack-test` makes it, and nothing may change it while it is looked at.
  await npm(`pack --ignore-scripts --silent --pack-destination ${folder}`, root);
  writeFileSync(
    join(folder, "package.json"),
    JSON.stringify({ name: "willowmere-rowing-club", private: true }),
  );
  await npm(`install --no-audit --no-fund --prefer-offline ./tuckline-${VERSION}.tgz`);
  cpSync(join(packed, "fixtures", "heron-crest.svg"), join(folder, "heron-crest.svg"));
  mkdirSync(join(folder, "clipart"));
  for (const name of ["heron-crest.svg", "forty-scales.svg"])
    cpSync(join(packed, "fixtures", name), join(folder, "clipart", name));
}, 120_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("what the tarball holds", () => {
  const files = () =>
    readdirSync(packed, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map(({ parentPath, name }) => join(parentPath, name));
  const inside = (path: string) => path.slice(packed.length + 1);

  it("is built code, the demo and the guide: no tests, no sources, nothing left over from an earlier build", () => {
    const names = files().map(inside);
    const kinds = new Set(
      names.map((name) =>
        name
          .split(/[/\\]/)
          .slice(0, name.startsWith("build") ? 2 : 1)
          .join("/"),
      ),
    );
    expect([...kinds].sort()).toEqual([
      "LICENSE",
      "README.md",
      "build/bin",
      "build/core",
      "build/edit",
      "build/inkscape",
      "build/plugin",
      "fixtures",
      "package.json",
    ]);
    expect(
      names.filter((name) => /(^|[/\\])tests?[/\\]|\.test\.|(?<!\.d)\.ts$|\.map$|\.tgz$/.test(name)),
    ).toEqual([]);
    const built = names.filter((name) => /^build.core.*\.js$/.test(name));
    const source = (name: string) => join(root, name.slice("build/".length).replace(/\.js$/, ".ts"));
    expect(built.filter((name) => !existing.has(source(name)))).toEqual([]);
  });

  it("speaks of no folder of the machine it was packed on", () => {
    const places = [root, homedir(), tmpdir()].map((place) => place.replace(/[/\\]$/, ""));
    const texts = files().filter((path) => /\.(js|cjs|ts|json|md|svg|css|inx|sh|cmd|txt)$/.test(path));
    expect(texts.length).toBeGreaterThan(100);
    const telling = texts.filter((path) => {
      const text = readFileSync(path, "utf8");
      return places.some((place) => text.includes(`${place}/`));
    });
    expect(telling.map(inside)).toEqual([]);
  });

  const existing = new Set(
    readdirSync(join(root, "core"), { recursive: true, encoding: "utf8" }).map((name) =>
      join(root, "core", name),
    ),
  );
});

describe("the installed command", { timeout: 60_000 }, () => {
  it("knows its version", async () => {
    expect(await tuckline("--version")).toBe(`${VERSION}\n`);
  });

  it("plans the crest, for the machine too", async () => {
    const said = await tuckline(
      "plan heron-crest.svg -o planned.svg --machine crest.dst --sheet crest.html --picture crest.png",
    );
    expect(said).toContain("the fewest possible");
    expect(readFileSync(join(folder, "planned.svg"), "utf8")).toContain('data-tuck-role="stitches"');
    expect(readFileSync(join(folder, "crest.dst")).length).toBeGreaterThan(10_000);
    expect(readFileSync(join(folder, "crest.html"), "utf8").slice(0, 15).toLowerCase()).toBe(
      "<!doctype html>",
    );
    // ISO/IEC 15948, 5.2: the PNG signature.
    expect([...readFileSync(join(folder, "crest.png")).subarray(0, 4)]).toEqual([0x89, 0x50, 0x4e, 0x47]);
  });

  it("gives the drawing back", async () => {
    await tuckline("strip planned.svg -o stripped.svg");
    expect(readFileSync(join(folder, "stripped.svg"))).toEqual(readFileSync(join(folder, "heron-crest.svg")));
  });

  it("lists the recipes", async () => {
    expect(await tuckline("recipes")).toContain("pile");
  });

  it("plans two drawings at a time", async () => {
    const said = await tuckline("batch clipart --out sewn --jobs 2");
    expect(said).toMatch(/planned +2\b/);
    const plans = readdirSync(join(folder, "sewn", "plans")).filter((name) => name.endsWith(".svg"));
    expect(plans.length).toBe(2);
  });

  it("puts the desktop editor's plugin in place", async () => {
    await tuckline("install inkscape --to extensions");
    expect(readdirSync(join(folder, "extensions", "tuckline"))).toContain("tuckline.cjs");
  });

  it("serves the browser editor with the panel in it, and ends on Ctrl-C", async () => {
    const child = spawn(process.execPath, [COMMAND, "edit", "heron-crest.svg", "--no-open"], { cwd: folder });
    const ended = new Promise((resolve) => child.on("close", resolve));
    const [first] = await lines(child.stdout, 1);
    const address = new URL(/http:\S+/.exec(first)?.[0] ?? "");
    const page = await fetch(new URL("/", address));
    expect(page.status).toBe(200);
    const html = await page.text();
    const base = new URL(/<base href="([^"]+)">/.exec(html)?.[1] ?? "", page.url);
    const parts = [...html.matchAll(/(?:src|href)="([^"]+\.\w+)"/g)].map(([, name]) => new URL(name, base));
    expect(parts.map(({ pathname }) => pathname)).toContainEqual(
      expect.stringMatching(/\/plugin\/panel\.js$/),
    );
    for (const part of parts) expect((await fetch(part)).status, part.pathname).toBe(200);
    child.kill("SIGINT");
    expect(await ended).toBe(0);
  });
});

describe("the installed library", () => {
  it("plans for other programs, with types that hold", async () => {
    const program = `import { DEFAULT_SETTINGS, makePlan, type Plan } from "tuckline";
const plan: Plan = makePlan('<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm"><path d="M4 4h40v40z"/></svg>', "oar.svg", DEFAULT_SETTINGS);
process.stdout.write(String(plan.metrics.pieces));
`;
    writeFileSync(join(folder, "oar.mts"), program);
    writeFileSync(join(folder, "oar.mjs"), program.replace(", type Plan", "").replace(": Plan", ""));
    expect(await inFolder(process.execPath, ["oar.mjs"])).toBe("1");
    const compiler = join(root, "node_modules", "typescript", "bin", "tsc");
    const types = join(root, "node_modules", "@types");
    await inFolder(process.execPath, [
      compiler,
      ..."--noEmit --strict --target es2022 --module nodenext --types node --typeRoots".split(" "),
      types,
      "oar.mts",
    ]);
  }, 60_000);
});

async function lines(stream: NodeJS.ReadableStream, most: number): Promise<string[]> {
  const read: string[] = [];
  for await (const line of createInterface(stream)) {
    read.push(line);
    if (read.length === most) break;
  }
  return read;
}

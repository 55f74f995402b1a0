/** A batch that is killed, again and again, and started again gives the bytes of one that was left alone. */
import { spawn } from "node:child_process";
import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { built } from "../support/built.ts";
import { seededRandom } from "../support/random-region.ts";

const MAIN = built("bin/tuckline.js");
const KILLER = built("tests/support/kill-at.js");

const NAMES = [
  "heron.svg",
  "the heron's nest.svg",
  'a "quoted" oar.svg',
  "🪶.svg",
  "reed, bent.svg",
  "reed; bent.svg",
  "pennant#1.svg",
  "pennant 100%.svg",
  "wave?.svg",
  "Wave.svg",
  "oar & oar.svg",
  "ö.svg",
];

/** A feather of `k` barbs: drawings that differ, and take milliseconds. */
const drawing = (k: number): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">${Array.from(
    { length: 1 + (k % 3) },
    (_, i) => `<path fill="#4a6274" d="M${2 + i * 5} 4h4v${6 + k / 2}h-4z"/>`,
  ).join("")}</svg>`;

/** Files that each drawing gives: two outputs, thumbnail and record, each written and then renamed. */
const STEPS_OF_ONE = 4 * 2;
const KILLS = 4;
/** So that even if nothing were ever redone, all kills would come before the end. */
const MOST_STEPS = (NAMES.length * STEPS_OF_ONE) / KILLS;

let folder = "";
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "tuckline-killed-"));
  for (const [k, name] of NAMES.entries()) await writeFile(join(folder, name), drawing(k));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const batch = (out: string, killAt: number) =>
  new Promise<number | string>((resolve, reject) => {
    const words = ["batch", "*.svg", "--out", out, "--formats", "svg,json", "--jobs", "1", "--quiet"];
    const child = spawn(process.execPath, ["--import", KILLER, MAIN, ...words], {
      cwd: folder,
      env: { ...process.env, TUCKLINE_KILL_AT: String(killAt) },
      stdio: ["ignore", "inherit", "inherit"],
    });
    child.on("error", reject);
    child.on("close", (code, signal) => resolve(signal ?? code ?? -1));
  });

/** Every file below a folder, by name, as base64. */
async function tree(name: string): Promise<Record<string, string>> {
  const root = join(folder, name);
  const entries = await readdir(root, { recursive: true, withFileTypes: true });
  const paths = entries
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .sort();
  return Object.fromEntries(
    await Promise.all(
      paths.map(async (path) => [path.slice(root.length + 1), (await readFile(path)).toString("base64")]),
    ),
  );
}

describe("a batch killed by SIGKILL", { timeout: 120_000 }, () => {
  it("goes on where it was, and ends with the same bytes", async () => {
    expect(await batch("alone", 0)).toBe(0);
    const random = seededRandom(20_261);
    for (let kill = 0; kill < KILLS; kill++)
      expect(await batch("killed", 1 + Math.floor(random() * MOST_STEPS))).toBe("SIGKILL");
    expect(await batch("killed", 0)).toBe(0);

    const alone = await tree("alone");
    expect(Object.keys(alone)).toHaveLength(NAMES.length * 4 + 3);
    expect(await tree("killed")).toEqual(alone);
  });
});

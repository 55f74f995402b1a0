/** A program kept in compiled form: taken up where it is that very program's, and never otherwise. */
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, it } from "vitest";
import { loadCompiled } from "../../cli/compiled.ts";

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "heron-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const path = (name: string): string => join(folder, name);
const load = () => loadCompiled<{ oars: () => number }>(path("club.cjs"), path("club.cache"));
const write = (oars: number): void => writeFileSync(path("club.cjs"), `exports.oars = () => ${oars};`);

it("is taken up the next time, and does the same", () => {
  write(8);
  const first = load();
  expect({ oars: first.exports.oars(), isFromCache: first.isFromCache }).toEqual({
    oars: 8,
    isFromCache: false,
  });
  first.keep();
  const second = load();
  expect({ oars: second.exports.oars(), isFromCache: second.isFromCache }).toEqual({
    oars: 8,
    isFromCache: true,
  });
  expect(readdirSync(folder).sort()).toEqual(["club.cache", "club.cjs"]);
});

it("is not taken up by another program, of the same length though", () => {
  write(8);
  load().keep();
  write(4);
  const changed = load();
  expect({ oars: changed.exports.oars(), isFromCache: changed.isFromCache }).toEqual({
    oars: 4,
    isFromCache: false,
  });
});

it("is not taken up where it is empty, torn or damaged", () => {
  write(8);
  load().keep();
  const kept = readFileSync(path("club.cache"));
  const damaged = Buffer.from(kept);
  damaged[kept.length - 1] ^= 1;
  for (const bytes of [Buffer.alloc(0), kept.subarray(0, 20), kept.subarray(0, kept.length / 2), damaged]) {
    writeFileSync(path("club.cache"), bytes);
    const again = load();
    expect({ oars: again.exports.oars(), isFromCache: again.isFromCache }).toEqual({
      oars: 8,
      isFromCache: false,
    });
  }
});

it("is done without where nothing can be written", () => {
  write(8);
  // A folder stands where the file would be put.
  mkdirSync(path("club.cache"));
  const loaded = load();
  loaded.keep();
  expect(loaded.exports.oars()).toBe(8);
  expect(readdirSync(folder).sort()).toEqual(["club.cache", "club.cjs"]);
});

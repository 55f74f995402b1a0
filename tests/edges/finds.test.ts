/**
 * Drawings that were once planned wrongly, found by the fuzzer or by the tests of edges and properties, each cut
 * down to what it takes: all that must hold of any plan (`tests/fuzz/judge.ts`) holds of theirs.
 */
import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { judge } from "../fuzz/judge.ts";

const FOLDER = new URL("../../fixtures/finds/", import.meta.url);

test.each(readdirSync(FOLDER))("%s", (name) => {
  const text = readFileSync(new URL(name, FOLDER), "utf8");
  const { kind, faults } = judge({ name, text, settings: DEFAULT_SETTINGS, done: [] });
  expect(faults).toEqual([]);
  expect(kind).toBe("planned");
});

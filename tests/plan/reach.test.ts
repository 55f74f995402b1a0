import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { expect, test } from "vitest";
import { makePlan } from "../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { needlePathFaults } from "../support/plan-checks.ts";

/** A golfer of `@twemoji/svg` (art under CC BY 4.0), in which one satin stitch would reach 13.6 mm along an axis. */
test("no stitch reaches further than the machine moves (common practice, no source)", () => {
  const folder = dirname(createRequire(import.meta.url).resolve("@twemoji/svg/package.json"));
  const text = readFileSync(join(folder, "1f3cc-1f3fb.svg"), "utf8");
  expect(needlePathFaults(makePlan(text, "golfer.svg", { ...DEFAULT_SETTINGS, widthMm: 80 }))).toEqual([]);
});

/**
 * Drawings of hundreds of pieces and more: each kind, by the thousand, once took minutes, because all were compared
 * with all. They are planned soundly (`tests/support/plan-checks.ts`); that they take seconds is seen by the time a
 * test may take.
 */
import { expect, test } from "vitest";
import { makePlan } from "../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { needlePathFaults } from "../support/plan-checks.ts";
import { svg } from "../support/read.ts";

const NAVY = "#1b3a5c";
const THREADS = [NAVY, "#9cc3d5", "#c8553d"];

const many = (count: number, drawn: (k: number) => string): string =>
  Array.from({ length: count }, (_, k) => drawn(k)).join("");
/** Blades in rows of 40, none of which comes near another. */
const dotAt = (k: number): string => `M${(k % 40) * 2.4 + 2} ${Math.floor(k / 40) * 2.4 + 2}h1.2v1.2h-1.2z`;
const path = (data: string, fill = NAVY): string => `<path d="${data}" fill="${fill}"/>`;
const zigzag = (turns: number): string => `M5 5${many(turns, (k) => `h${k % 2 ? -90 : 90}v1`)}`;

test.each<[string, string, number]>([
  ["dots in one thread, an element each", many(500, (k) => path(dotAt(k))), 500],
  ["dots in one path", path(many(500, dotAt)), 500],
  ["dots by turns in three threads", many(500, (k) => path(dotAt(k), THREADS[(k * k) % 3])), 500],
  [
    "a line in a thousand dashes",
    `<path d="${zigzag(20)}" fill="none" stroke="${NAVY}" stroke-width=".6" stroke-dasharray=".9 .9"/>`,
    1012,
  ],
  ["the same blade three hundred times: four layers are sewn", many(300, () => path("M10 10H60V60H10z")), 4],
])("%s", (_, content, pieces) => {
  const plan = makePlan(svg(content), "drawing.svg", DEFAULT_SETTINGS);
  expect(needlePathFaults(plan)).toEqual([]);
  expect(plan.metrics.pieces).toBe(pieces);
  expect(plan.metrics.strands).toBeGreaterThanOrEqual(plan.metrics.strandsLowerBound);
});

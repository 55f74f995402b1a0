/**
 * Numbers far beyond the page: what is drawn far away and brought back is planned like any other, what clips from
 * here to nowhere clips nothing, and nothing breaks. «The same» is judged on the plan itself.
 */
import { describe, expect, test } from "vitest";
import { makePlan } from "../../core/plan/make-plan.ts";
import type { Plan } from "../../core/plan/types.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { judge } from "../fuzz/judge.ts";
import { svg } from "../support/read.ts";

const BLADE = '<rect id="blade" x="10" y="10" width="40" height="20" fill="#1b3a5c"/>';
const WATER = '<path id="water" d="M30 15L90 20L70 60z" fill="#9cc3d5"/>';
const plan = (content: string): Plan => makePlan(svg(content), "drawing.svg", DEFAULT_SETTINGS);
const sewing = (content: string) => plan(content).sewing;

describe("a clip without end is no clip", () => {
  test.each([
    ["an inner svg of a million kilometres", `<svg width="1e12" height="1e15">${BLADE}</svg>`],
    [
      "a clip path from nowhere to nowhere",
      `<clipPath id="c"><rect x="-1e15" y="-1e15" width="2e15" height="2e15"/></clipPath><g clip-path="url(#c)">${BLADE}</g>`,
    ],
    [
      "the same turned",
      `<clipPath id="c"><rect transform="rotate(30)" x="-1e9" y="-1e9" width="2e9" height="2e9"/></clipPath><g clip-path="url(#c)">${BLADE}</g>`,
    ],
    [
      "a mask with a window without end",
      `<mask id="m" maskUnits="userSpaceOnUse" x="-1e15" y="-1e15" width="2e15" height="2e15"><path fill="#fff" d="M0 0h100v100h-100z"/></mask><g mask="url(#m)">${BLADE}</g>`,
    ],
  ])("%s", (_, content) => expect(sewing(content)).toEqual(sewing(BLADE)));

  test("one without end on one side clips on the other", () => {
    const clipped = `<clipPath id="c"><rect x="30" y="-1e13" width="1e14" height="2e13"/></clipPath><g clip-path="url(#c)">${BLADE}</g>`;
    expect(sewing(clipped)).toEqual(sewing(BLADE.replace('x="10"', 'x="30"').replace("40", "20")));
  });
});

test.each([
  [
    "a clip in parts of a box without end",
    `<clipPath id="c" clipPathUnits="objectBoundingBox"><rect width="1" height=".5"/></clipPath><g clip-path="url(#c)">${BLADE}<path d="M0 0L1e15 3z"/></g>`,
  ],
  [
    "a mask on what has no end",
    `<mask id="m"><rect width="30" height="30" fill="#fff"/></mask><g mask="url(#m)">${BLADE}<path d="M0 0L1e15 3z"/></g>`,
  ],
  [
    "a symbol as small as an atom in a place without end",
    `<symbol id="s" viewBox="0 0 1e-9 1e-9"><rect width="1e-9" height="1e-9"/></symbol><use href="#s" width="1e15" height="1e15"/>${BLADE}`,
  ],
  ["a stroke wider than the earth", `<path d="M10 10H90" stroke="#1b3a5c" stroke-width="1e15"/>${BLADE}`],
  [
    "a line that crosses the page from far away",
    `<path transform="rotate(30)" d="M-8000 10H8000" stroke="#1b3a5c" stroke-width="3"/>${BLADE}`,
  ],
])("%s is planned soundly", (_, content) => {
  const { kind, faults } = judge({
    name: "drawing.svg",
    text: svg(content),
    settings: DEFAULT_SETTINGS,
    done: [],
  });
  expect(faults).toEqual([]);
  expect(kind).toBe("planned");
});

describe("drawn a hundred metres from the origin, and brought back by a transform or a viewBox", () => {
  const far = (content: string) =>
    content
      .replace(/(x|y)="(\d+)"/g, (_, axis, at) => `${axis}="${Number(at) + 1e5}"`)
      .replace(/([ML])(\d+) (\d+)/g, (_, command, x, y) => `${command}${Number(x) + 1e5} ${Number(y) + 1e5}`);
  const near = plan(BLADE + WATER);

  test.each([
    ["a transform", svg(`<g transform="translate(-100000 -100000)">${far(BLADE + WATER)}</g>`)],
    ["a viewBox", svg(far(BLADE + WATER)).replace('viewBox="0 0', 'viewBox="100000 100000')],
  ])("%s: the same stitches", (_, text) => {
    const { sewing: steps, metrics } = makePlan(text, "drawing.svg", DEFAULT_SETTINGS);
    expect(metrics.stitches).toBe(near.metrics.stitches);
    for (const [k, step] of steps.entries()) {
      const other = near.sewing[k];
      expect(step.role).toBe(other.role);
      if (!("points" in step && "points" in other)) continue;
      for (const [i, value] of step.points.entries()) expect(value).toBeCloseTo(other.points[i], 4);
    }
  });
});

/** Marks on the canvas: which way they point, which have room, where keys lead them, how connectors are led. */
import { describe, expect, it } from "vitest";
import type { Point } from "../../core/geometry/types.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { bendPlace, middleOf } from "../../plugin/canvas/bend-points.ts";
import { declutter } from "../../plugin/canvas/declutter.ts";
import { stitchesOfTarget } from "../../plugin/canvas/emphasis.ts";
import { markerPlaces } from "../../plugin/canvas/marker-places.ts";
import { trackOf } from "../../plugin/canvas/needle-track.ts";
import { rowAngle } from "../../plugin/canvas/row-angle.ts";
import { stepAlong } from "../../plugin/canvas/step-along.ts";
import { pieceFinder } from "../../plugin/canvas/under-pointer.ts";
import { svg } from "../support/read.ts";
import { tinyPlan } from "../support/tiny-plan.ts";

describe("markers", () => {
  const places = markerPlaces(tinyPlan());

  it("stand at every entry and exit, in sewing order, with their numbers", () => {
    expect(places.map(({ piece, point, order }) => `${order} ${point} ${piece}`).slice(0, 4)).toEqual([
      "1 entry feather-1",
      "1 exit feather-1",
      "2 entry feather-2",
      "2 exit feather-2",
    ]);
    expect(places[0].at).toEqual([4, 4]);
    expect(places[2].isPinned).toBe(true);
  });

  it("turn with the first stitch and the last, ties left aside", () => {
    // Of feather-1 underlay comes first, and goes down to the right; its last row goes to the left.
    expect(places[0].turnDeg).toBeCloseTo(45);
    expect(Math.abs(places[1].turnDeg)).toBeCloseTo(180);
  });
});

it("keeps marks apart, the foremost first, and leaves out what is out of sight", () => {
  const places: (Point | null)[] = [[0, 0], [6, 6], null, [30, 0], [30, 9], [30, 12]];
  expect(declutter(places, 10)).toEqual([true, false, false, true, false, true]);
});

describe("a step with an arrow key", () => {
  const along =
    (line: (at: Point) => Point) =>
    (from: Point, step: Point): Point =>
      stepAlong(from, step, line);
  const anywhere = along((at) => at);
  const onAscent = along(([x, y]) => [(x + y) / 2, (x + y) / 2]);
  const leftOfTen = along(([x, y]) => [Math.min(10, x), y]);

  it("goes straight where the way is free", () => {
    expect(anywhere([3, 4], [1, 0])).toEqual([4, 4]);
  });

  it("goes along a slanting line", () => {
    const [x, y] = onAscent([5, 5], [1, 0]);
    expect(x).toBeCloseTo(y);
    expect(x).toBeGreaterThan(5.4);
  });

  it("goes along an edge that runs across the arrow only as far as it leads onward", () => {
    expect(leftOfTen([10, 2], [1, 0])).toEqual([10, 2]);
  });
});

describe("a connector that is led another way", () => {
  const line: Point[] = [
    [0, 0],
    [10, 0],
    [10, 10],
  ];

  it("has a new point where it was taken hold of, between those before and after", () => {
    const through: Point[] = [
      [5, 0.5],
      [10, 6],
    ];
    expect(bendPlace(line, through, [2, 0])).toBe(0);
    expect(bendPlace(line, through, [9, 0])).toBe(1);
    expect(bendPlace(line, through, [10, 9])).toBe(2);
    expect(bendPlace(line, [], [3, 0])).toBe(0);
  });

  it("is bent by keys from its middle on", () => {
    expect(middleOf(line)).toEqual([10, 0]);
    expect(middleOf([line[0], line[1]])).toEqual([5, 0]);
  });
});

describe("seen from the stitches", () => {
  const plan = makePlan(
    svg(`<rect id="water" fill="#2f7f92" x="10" y="10" width="40" height="30" data-tuck-angle="30"/>
      <rect id="reed" fill="#6f8f4a" x="20" y="5" width="12" height="50" data-tuck-angle="90"/>`),
    "pond.svg",
    DEFAULT_SETTINGS,
  );
  const track = trackOf(plan);

  it("rows have the angle that was asked for", () => {
    expect(rowAngle(track, "water")).toBe(30);
    expect(rowAngle(track, "reed")).toBe(90);
    expect(rowAngle(track, "no such piece")).toBeNull();
  });

  it("the piece under the pointer is the one on top", () => {
    const find = pieceFinder(track);
    expect(find([14, 30])).toBe("water");
    expect(find([26, 30])).toBe("reed");
    expect(find([70, 70])).toBeUndefined();
  });

  it("what is pointed at is its stitches: a piece's cover, all of a strand", () => {
    const sum = (ranges: ReturnType<typeof stitchesOfTarget>) =>
      ranges.reduce((total, [first, end]) => total + end - first, 0);
    const cover = track.spans.filter(({ piece, role }) => piece === "reed" && role === "cover");
    expect(sum(stitchesOfTarget(track, { kind: "piece", id: "reed" }))).toBe(
      cover.reduce((total, { first, end }) => total + end - first, 0),
    );
    const strands = new Set(track.spans.map(({ strand }) => strand));
    const all = [...strands].map((index) => sum(stitchesOfTarget(track, { kind: "strand", index })));
    expect(all.reduce((a, b) => a + b, 0)).toBe(track.count);
    expect(stitchesOfTarget(track, { kind: "connector", id: "water:reed" })).toEqual([]);
  });
});

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { NO_MARKS, type Piece, type Pin } from "../../core/artwork/types.ts";
import { clipLine } from "../../core/geometry/clip-line.ts";
import { distance, lerp, nearestFraction } from "../../core/geometry/point.ts";
import { nearestOnPolyline, polylineLength } from "../../core/geometry/polyline.ts";
import type { Point, Polyline } from "../../core/geometry/types.ts";
import { planArtwork } from "../../core/plan/make-plan.ts";
import { formNetworks, pinsOfNetworks } from "../../core/sequence/networks.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { turnAt } from "../../core/techniques/even-stitches.ts";
import { layNetwork } from "../../core/techniques/network.ts";
import { lineGraph, touchingGroups } from "../../core/techniques/network-graph.ts";
import { box, inOrder, REED, runAlong } from "../support/pieces.ts";
import { needlePathFaults } from "../support/plan-checks.ts";

const OPTIONS = { lengthMm: 2.5, minStitchMm: 0.4, passes: 2 };

/** A feather's shaft with a barb to either side, the second drawn a hair short of the shaft. */
const SHAFT: Polyline = [
  [0, 0],
  [30, 0],
];
const BARB: Polyline = [
  [10, 0],
  [16, 8],
];
const SHORT_BARB: Polyline = [
  [20, -0.08],
  [26, -8],
];
const FEATHER = [SHAFT, BARB, SHORT_BARB];

const stitchLengths = (needle: Polyline): number[] => needle.slice(1).map((p, i) => distance(needle[i], p));

const sew = (lines: readonly Polyline[], entry: Point, exit: Point, options = OPTIONS): Polyline =>
  layNetwork(lines, options).stitch(entry, exit)[0].points;

/** How often stitches pass over a place on a line that no needle point lies on. */
function passesOver(needle: Polyline, at: Point): number {
  let count = 0;
  for (let i = 1; i < needle.length; i++) {
    const fraction = nearestFraction(at, needle[i - 1], needle[i]);
    const off = distance(at, lerp(needle[i - 1], needle[i], fraction));
    if (fraction > 0 && fraction < 1 && off < 0.08) count++;
  }
  return count;
}

/** Places along the lines, a little off round numbers. */
const placesOn = (lines: readonly Polyline[]): Point[] =>
  lines.flatMap((line) =>
    [0.137, 0.291, 0.613, 0.877].map((t): Point => {
      const [[ax, ay], [bx, by]] = [line[0], line[line.length - 1]];
      return [ax + (bx - ax) * t, ay + (by - ay) * t];
    }),
  );

describe("lines as a graph", () => {
  it("has nodes where barbs leave the shaft, and at every free end", () => {
    const graph = lineGraph(FEATHER)!;
    expect(graph.nodes).toHaveLength(6);
    expect(graph.edges).toHaveLength(5);
    expect(graph.edges.reduce((sum, { lengthMm }) => sum + lengthMm, 0)).toBeCloseTo(
      30 + 10 + Math.hypot(6, 7.92),
      1,
    );
  });

  it("has a node where two oars cross", () => {
    const oars: Polyline[] = [
      [
        [0, 0],
        [10, 10],
      ],
      [
        [0, 10],
        [10, 0],
      ],
    ];
    expect(lineGraph(oars)!.edges).toHaveLength(4);
    expect(lineGraph(oars)!.nodes).toContainEqual([5, 5]);
  });

  it("makes one edge of strokes that go on where another ended", () => {
    const bank: Polyline[] = [
      [
        [0, 0],
        [5, 1],
      ],
      [
        [5, 1],
        [10, 0],
      ],
    ];
    expect(lineGraph(bank)!.edges).toHaveLength(1);
  });

  it("counts once what two outlines share", () => {
    const left: Polyline = [
      [5, 0],
      [0, 0],
      [0, 5],
      [5, 5],
      [5, 0],
    ];
    const right: Polyline = [
      [5, 0],
      [10, 0],
      [10, 5],
      [5, 5],
      [5, 0],
    ];
    const graph = lineGraph([left, right])!;
    expect(graph.edges.map(({ lengthMm }) => lengthMm).sort((a, b) => a - b)).toEqual([5, 15, 15]);
  });

  it("groups lines by what touches what", () => {
    const apart: Polyline = [
      [0, 20],
      [9, 20],
    ];
    expect(touchingGroups([SHAFT, apart, BARB, SHORT_BARB])).toEqual([[0, 2, 3], [1]]);
  });
});

describe("a network", () => {
  it("covers every line twice where it ends where it began, wherever that is", () => {
    for (const at of [
      [0, 0],
      [30, 0],
      [4.4, 0],
      [16, 8],
      [13, 4],
    ] as const) {
      const needle = sew(FEATHER, at, at);
      expect(polylineLength(needle)).toBeCloseTo(2 * (30 + 10 + Math.hypot(6, 8)), 0);
      for (const place of placesOn([SHAFT, BARB])) expect(passesOver(needle, place)).toBe(2);
    }
  });

  it("adds only the way from entry to exit where these differ", () => {
    const needle = sew(FEATHER, [0, 0], [16, 8]);
    expect(passesOver(needle, [5.1, 0])).toBe(3);
    expect(passesOver(needle, [13.1, 4.13])).toBe(3);
    expect(passesOver(needle, [25.1, 0])).toBe(2);
    expect(layNetwork(FEATHER, OPTIONS).travelMm([0, 0], [16, 8])).toBeCloseTo(20, 6);
  });

  it("goes straight on at a crossing, but for the turns on to the other line and off it", () => {
    const oars: Polyline[] = [
      [
        [0, 0],
        [10, 10],
      ],
      [
        [0, 10],
        [10, 0],
      ],
    ];
    const needle = sew(oars, [0, 0], [0, 0]);
    const atCrossing = needle.slice(1, -1).flatMap((p, i) => (distance(p, [5, 5]) < 1e-6 ? [i + 1] : []));
    const turns = atCrossing.map((i) => Math.abs(turnAt(needle[i - 1], needle[i], needle[i + 1])));
    // Each oar twice makes four times over the crossing; on to the other oar and back again there is a turn.
    expect(turns).toHaveLength(4);
    expect(turns.filter((turn) => turn < 1e-6)).toHaveLength(2);
  });

  it("sets the second pass half a stitch off, so that it shares only the holes at nodes", () => {
    const needle = sew([SHAFT, BARB], [0, 0], [0, 0]);
    const holes = new Map<string, number>();
    for (const p of needle) {
      const key = p.map((v) => v.toFixed(3)).join(" ");
      holes.set(key, (holes.get(key) ?? 0) + 1);
    }
    const shared = [...holes].filter(([, count]) => count > 1).map(([key]) => key);
    expect(shared.sort()).toEqual(["0.000 0.000", "10.000 0.000"]);
  });

  it("begins and ends where it is told, keeps to the lines and to its stitch lengths, whatever the lines", () => {
    const coordinate = fc.double({ min: 0, max: 25, noNaN: true });
    const point = fc.tuple(coordinate, coordinate);
    const lines = fc.array(fc.array(point, { minLength: 2, maxLength: 5 }), { minLength: 1, maxLength: 5 });
    fc.assert(
      fc.property(lines, point, point, fc.integer({ min: 1, max: 3 }), (free, from, to, passes) => {
        // All begin on the first, so that they hang together.
        const network = free.map((line) => [free[0][0], ...line]);
        fc.pre(network.reduce((sum, line) => sum + polylineLength(line), 0) > 2);
        const laid = layNetwork(network, { ...OPTIONS, passes });
        const [entry, exit] = [laid.snap(from), laid.snap(to)];
        const needle = laid.stitch(entry, exit)[0].points;
        expect(needle[0]).toEqual(entry);
        expect(needle[needle.length - 1]).toEqual(exit);
        const lengths = stitchLengths(needle);
        expect(Math.max(...lengths)).toBeLessThan(2.5 + 2 * 0.4);
        expect(Math.min(...lengths.slice(0, -1))).toBeGreaterThan(0.4 - 1e-6);
        for (const p of network.flat()) expect(nearestOnPolyline(p, needle).distance).toBeLessThan(0.6);
        for (const p of needle)
          expect(Math.min(...network.map((line) => nearestOnPolyline(p, line).distance))).toBeLessThan(0.21);
      }),
      { seed: 12, numRuns: 150 },
    );
  });

  it("says what is wrong with lines that do not hang together", () => {
    const apart: Polyline = [
      [0, 20],
      [9, 20],
    ];
    expect(() => sew([SHAFT, apart], [0, 0], [0, 0])).toThrow(RangeError);
  });
});

describe("which pieces form a network", () => {
  const shaft = runAlong("shaft", SHAFT);
  const barb = runAlong("barb", BARB);
  const shortBarb = runAlong("short-barb", SHORT_BARB);
  const ids = (pieces: readonly Piece[]) => pieces.map(({ id, members }) => members ?? id);

  it("are strokes of one colour that touch, in the place of the first and with its name", () => {
    const formed = formNetworks(inOrder(box("vane", 0, -9, 30, 18), shaft, barb, shortBarb));
    expect(ids(formed.pieces)).toEqual(["vane", ["shaft", "barb", "short-barb"]]);
    expect(formed.pieces[1].id).toBe("shaft");
    expect(formed.blocks.at(-1)?.end).toBe(2);
  });

  it("are not strokes of two colours, or with a fill between them", () => {
    const other = runAlong("barb", BARB, REED);
    expect(formNetworks(inOrder(shaft, other)).pieces).toEqual([shaft, other]);
    const between = inOrder(shaft, box("vane", 12, -9, 3, 18), barb);
    expect(formNetworks(between)).toBe(between);
  });

  it("are not strokes that the artist set apart, by a length or by a strand", () => {
    const long: Piece = { ...barb, overrides: { lengthMm: 3 } };
    const named: Piece = { ...shortBarb, overrides: { strand: "tip" } };
    expect(ids(formNetworks(inOrder(shaft, long, named)).pieces)).toEqual(["shaft", "barb", "short-barb"]);
    const alike: Piece = { ...barb, overrides: { strand: "tip" } };
    expect(ids(formNetworks(inOrder(shaft, named, alike)).pieces)).toEqual(["shaft", "short-barb", "barb"]);
    expect(
      ids(formNetworks(inOrder({ ...shaft, overrides: { strand: "tip" } }, named, alike)).pieces),
    ).toEqual([["shaft", "short-barb", "barb"]]);
  });

  it("take over the pins of their members, and leave out those whose pins contradict each other", () => {
    const pin = (piece: string, point: Pin["point"], at: Point): Pin => ({ piece, point, at });
    const pins = [pin("barb", "entry", [16, 8]), pin("short-barb", "exit", [26, -8])];
    const sequence = formNetworks(inOrder(shaft, barb, shortBarb), pins);
    expect(ids(sequence.pieces)).toEqual([["shaft", "barb", "short-barb"]]);
    expect(pinsOfNetworks(pins, sequence).map(({ piece }) => piece)).toEqual(["shaft", "shaft"]);
    const both = [pin("barb", "entry", [16, 8]), pin("short-barb", "entry", [26, -8])];
    expect(ids(formNetworks(inOrder(shaft, barb, shortBarb), both).pieces)).toEqual([
      "shaft",
      "barb",
      "short-barb",
    ]);
  });

  it("are planned as one strand that begins and ends at the pins", () => {
    const pins: Pin[] = [
      { piece: "barb", point: "entry", at: [16, 8] },
      { piece: "short-barb", point: "exit", at: [26, -8] },
    ];
    const artwork = {
      source: { name: "feather", sha256: "0".repeat(64) },
      size: { widthMm: 30, heightMm: 20 },
      userToMm: [1, 0, 0, 1, 0, 0] as const,
      pieces: [shaft, barb, shortBarb],
      findings: [],
    };
    const plan = planArtwork(artwork, { ...NO_MARKS, pins }, DEFAULT_SETTINGS);
    expect(needlePathFaults(plan)).toEqual([]);
    expect(plan.metrics.strands).toBe(1);
    expect(plan.pieces).toMatchObject([
      { id: "shaft", members: ["shaft", "barb", "short-barb"], entryPinned: true, exitPinned: true },
    ]);
    expect(distance(plan.pieces[0].entry, [16, 8])).toBeLessThan(1e-6);
    expect(distance(plan.pieces[0].exit, [26, -8])).toBeLessThan(1e-6);
  });
});

describe("a line clipped to a region", () => {
  it("is cut where it crosses the edge, and whole where it runs over itself", () => {
    const { region } = box("wave", 2, -1, 4, 2);
    const there: Polyline = [
      [0, 0],
      [8, 0],
    ];
    expect(clipLine(there, region)).toEqual([
      [
        [2, 0],
        [6, 0],
      ],
    ]);
    const andBack = clipLine([...there, [0, 0]], region);
    expect(andBack.map(polylineLength)).toEqual([4, 4]);
    expect(
      clipLine(
        [
          [3, 0],
          [5, 0.5],
          [3, 0],
        ],
        region,
      ),
    ).toHaveLength(1);
  });
});

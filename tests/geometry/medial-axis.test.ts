import { describe, expect, it } from "vitest";
import { AXIS_OPTIONS, branchesOf, type MedialAxis, medialAxis } from "../../core/geometry/medial-axis.ts";
import { areasOf } from "../../core/geometry/medial-axis-parts.ts";
import { distance, rotate } from "../../core/geometry/point.ts";
import { nearestOnEdge, regionArea } from "../../core/geometry/region.ts";
import type { Point, Polygon } from "../../core/geometry/types.ts";
import { circle } from "../techniques/satin-sew-out.ts";

// The axes below follow from the definition (all middles of circles that touch the edge twice): elementary geometry.

/** As near as the axis is to be to the true one, mm, wherever the shape is twice as wide as the step. */
const NEAR = 0.05;

const sewable = ({ nodes }: MedialAxis) => nodes.filter(({ radiusMm }) => radiusMm >= AXIS_OPTIONS.stepMm);

const open = (ring: readonly Point[]): Point[] => ring.slice(0, -1);
const plain = (...outer: Point[]): Polygon => ({ outer, holes: [] });
const turned = ({ outer, holes }: Polygon, rad: number): Polygon => ({
  outer: outer.map((p) => rotate(p, rad)),
  holes: holes.map((hole) => hole.map((p) => rotate(p, rad))),
});

const OAR_SHAFT = plain([0, 0], [20, 0], [20, 3], [0, 3]);
const LIFE_RING: Polygon = { outer: open(circle(0, 0, 10)), holes: [open(circle(0, 0, 7)).reverse()] };
const PENNANT = plain([0, 0], [20, -3], [20, 3]);
const BOAT_HOUSE = plain([0, 0], [20, 0], [20, 4], [4, 4], [4, 20], [0, 20]);
const MOORING = plain([0, 0], [20, 0], [20, 4], [12, 4], [12, 20], [8, 20], [8, 4], [0, 4]);
const GRATING: Polygon = {
  outer: [
    [0, 0],
    [30, 0],
    [30, 10],
    [0, 10],
  ],
  holes: [3, 12, 21].map((x): Point[] => [
    [x, 3],
    [x, 7],
    [x + 6, 7],
    [x + 6, 3],
  ]),
};
const SHAPES = { OAR_SHAFT, LIFE_RING, PENNANT, BOAT_HOUSE, MOORING, GRATING };

const axisOf = (polygon: Polygon): MedialAxis => {
  const axis = medialAxis(polygon);
  if (axis === null) throw new Error("no axis");
  return axis;
};

describe("medial axis of known shapes", () => {
  it("of a strip is its middle line, ending half a width before its ends", () => {
    const { nodes } = axisOf(OAR_SHAFT);
    expect(branchesOf(nodes)).toHaveLength(1);
    for (const { point, radiusMm } of nodes) {
      expect(Math.abs(point[1] - 1.5)).toBeLessThan(NEAR);
      expect(Math.abs(radiusMm - 1.5)).toBeLessThan(NEAR);
    }
    const xs = nodes.map(({ point }) => point[0]);
    expect(Math.abs(Math.min(...xs) - 1.5)).toBeLessThan(NEAR);
    expect(Math.abs(Math.max(...xs) - 18.5)).toBeLessThan(NEAR);
  });

  it("of a ring is the circle half way between its edges", () => {
    const { nodes } = axisOf(LIFE_RING);
    const branches = branchesOf(nodes);
    expect(branches).toHaveLength(1);
    expect(branches[0][0]).toBe(branches[0][branches[0].length - 1]);
    for (const { point, radiusMm } of nodes) {
      // Flattened arcs lie up to 0.05 mm inside the true ones.
      expect(Math.abs(Math.hypot(...point) - 8.5)).toBeLessThan(NEAR + 0.05);
      expect(Math.abs(radiusMm - 1.5)).toBeLessThan(NEAR + 0.05);
    }
  });

  it("of a wedge halves its angle; the radius grows with the sine of that", () => {
    const axis = axisOf(PENNANT);
    const { nodes } = axis;
    const sine = 3 / Math.hypot(20, 3);
    for (const { point, radiusMm } of sewable(axis)) {
      expect(Math.abs(point[1])).toBeLessThan(NEAR);
      expect(Math.abs(radiusMm - point[0] * sine)).toBeLessThan(NEAR);
    }
    expect(Math.min(...nodes.map(({ point }) => point[0]))).toBeLessThan(1);
  });

  it("of an L runs half way in its arms and, round the inner corner, as far from that as from the outer sides", () => {
    const { nodes } = axisOf(BOAT_HOUSE);
    expect(branchesOf(nodes)).toHaveLength(1);
    for (const { point, radiusMm } of nodes) {
      const [x, y] = point;
      const expected = x > 4 || y > 4 ? 2 : Math.min(x, y);
      expect(Math.abs(radiusMm - expected)).toBeLessThan(NEAR);
      expect(Math.abs(Math.min(x, y) - radiusMm)).toBeLessThan(NEAR);
    }
  });

  it("of a T has its fork where the circle touches the bar's far side and both inner corners", () => {
    const { nodes } = axisOf(MOORING);
    const forks = nodes.filter(({ links }) => links.length === 3);
    expect(forks).toHaveLength(1);
    // d² = 2² + (4 − d)², so d = 2.5.
    expect(distance(forks[0].point, [10, 2.5])).toBeLessThan(NEAR);
    expect(Math.abs(forks[0].radiusMm - 2.5)).toBeLessThan(NEAR);
    expect(branchesOf(nodes)).toHaveLength(3);
  });

  it("of a disc, however finely its edge is cut, is about one point", () => {
    const { nodes } = axisOf(plain(...open(circle(3, 3, 5))));
    for (const { point } of nodes) expect(distance(point, [3, 3])).toBeLessThan(0.3);
  });
});

describe("medial axis of any shape", () => {
  for (const [name, shape] of Object.entries(SHAPES)) {
    it(`keeps its radius as the distance to the edge: ${name}`, () => {
      for (const rad of [0, 0.3, 1.1]) {
        const polygon = turned(shape, rad);
        for (const { point, radiusMm } of sewable(axisOf(polygon)))
          expect(Math.abs(nearestOnEdge([polygon], point).distance - radiusMm)).toBeLessThan(NEAR);
      }
    });

    it(`has one loop a hole and hangs together: ${name}`, () => {
      for (const rad of [0, 0.3, 1.1]) {
        const { nodes } = axisOf(turned(shape, rad));
        const links = nodes.reduce((sum, node) => sum + node.links.length, 0) / 2;
        expect(links - nodes.length + 1).toBe(shape.holes.length);
        const reached = new Set([0]);
        for (const n of reached) for (const next of nodes[n].links) reached.add(next);
        expect(reached.size).toBe(nodes.length);
      }
    });

    it(`cut into parts anywhere, loses no area: ${name}`, () => {
      const axis = axisOf(shape);
      const middle = axis.nodes.reduce((sum, { point }) => sum + point[0], 0) / axis.nodes.length;
      const zones = zonesOf(axis, (point) => point[0] < middle);
      const areas = areasOf(axis, zones).filter((area) => area !== null);
      expect(areas.length).toBeGreaterThan(1);
      const sum = areas.reduce((total, area) => total + regionArea([area]), 0);
      expect(sum).toBeCloseTo(regionArea([shape]), 6);
      for (const area of areas) expect(regionArea([area])).toBeGreaterThan(0);
    });
  }

  it("keeps sharp points as branches and lets right angles go", () => {
    const star = Array.from({ length: 10 }, (_, k): Point => {
      const r = k % 2 === 0 ? 20 : 7.6;
      return [r * Math.cos((k * Math.PI) / 5), r * Math.sin((k * Math.PI) / 5)];
    });
    const tips = (polygon: Polygon) => axisOf(polygon).nodes.filter(({ links }) => links.length === 1).length;
    expect(tips(plain(...star))).toBe(5);
    expect(tips(plain([0, 0], [30, 0], [30, 8], [0, 8]))).toBe(2);
    expect(tips(MOORING)).toBe(3);
  });

  it("is the same, turned, for a turned shape", () => {
    for (const shape of [OAR_SHAFT, PENNANT, BOAT_HOUSE]) {
      const other = axisOf(turned(shape, 0.7)).nodes.map(({ point }) => rotate(point, -0.7));
      for (const { point } of axisOf(shape).nodes)
        expect(Math.min(...other.map((p) => distance(p, point)))).toBeLessThan(AXIS_OPTIONS.stepMm);
    }
  });

  it("keeps a bulge behind a neck", () => {
    // Two basins of 10 mm joined by a channel 2 mm wide through a wall.
    const basins = plain(
      [0, 0],
      [10, 0],
      [10, 4],
      [11, 4],
      [11, 0],
      [21, 0],
      [21, 10],
      [11, 10],
      [11, 6],
      [10, 6],
      [10, 10],
      [0, 10],
    );
    const { nodes } = axisOf(basins);
    for (const middle of [
      [5, 5],
      [16, 5],
    ] as const)
      expect(Math.min(...nodes.map(({ point }) => distance(point, middle)))).toBeLessThan(0.5);
  });

  it("has none where there is no area", () => {
    expect(medialAxis(plain([0, 0], [5, 0], [10, 0]))).toBeNull();
    expect(medialAxis(plain([0, 0], [1, 1]))).toBeNull();
    expect(medialAxis(plain([0, 0], [Number.NaN, 1], [3, 3]))).toBeNull();
  });
});

/** Labels for nodes that hang together on the same side of a line. */
function zonesOf({ nodes }: MedialAxis, isLow: (p: Point) => boolean): Int32Array {
  const labels = new Int32Array(nodes.length).fill(-1);
  let count = 0;
  for (let start = 0; start < nodes.length; start++) {
    if (labels[start] >= 0) continue;
    const own = [start];
    labels[start] = count;
    for (const n of own)
      for (const next of nodes[n].links)
        if (labels[next] < 0 && isLow(nodes[next].point) === isLow(nodes[start].point)) {
          labels[next] = count;
          own.push(next);
        }
    count++;
  }
  return labels;
}

import { describe, expect, test } from "vitest";
import type { Piece, Pin } from "../../core/artwork/types.ts";
import { regionContains } from "../../core/geometry/region.ts";
import type { Point } from "../../core/geometry/types.ts";
import { connectorsOf } from "../../core/plan/connectors.ts";
import { routeSequence } from "../../core/routing/route.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { area, box, CREAM, inOrder, NAVY, plainStitcher, REED, runAlong } from "../support/pieces.ts";

/** Travel inside pieces costs nothing here, so that connectors are as short as they can be. */
const freeStitcher = { ...plainStitcher, travelMm: () => 0 };

function route(pieces: readonly Piece[], pins: readonly Pin[] = [], settings = DEFAULT_SETTINGS) {
  const sequence = inOrder(...pieces);
  const result = routeSequence(
    sequence,
    pieces.map(() => freeStitcher),
    pins,
    settings,
  );
  const connectors = connectorsOf(sequence, result.routes);
  return {
    ...result,
    connectors,
    breaks: result.routes.breaks.filter((stop) => stop !== null),
    strands: sequence.blocks.length + result.routes.breaks.filter((stop) => stop !== null).length,
  };
}

const expectPoint = (p: Point, q: Point) => {
  expect(p[0]).toBeCloseTo(q[0], 3);
  expect(p[1]).toBeCloseTo(q[1], 3);
};

describe("gaps (common practice, no source)", () => {
  test("1.9 mm are hopped: one strand", () => {
    const { connectors, strands } = route([box("a", 0, 0, 5, 5), box("b", 6.9, 0, 5, 5)]);
    expect(strands).toBe(1);
    expect(connectors[0]).toMatchObject({ kind: "hop", from: "a", to: "b", tuckedMm: 0 });
    expect(connectors[0]!.exposedMm).toBeCloseTo(1.9, 6);
  });

  test("2.1 mm are trimmed, with the figure in the reason", () => {
    const { connectors, strands, strandsLowerBound } = route([box("a", 0, 0, 5, 5), box("b", 7.1, 0, 5, 5)]);
    expect(strands).toBe(2);
    expect(strandsLowerBound).toBe(2);
    expect(connectors[0]).toMatchObject({ kind: "jump", exposedMm: 0 });
    expect(connectors[0]!.reason).toContain("no later piece bridges a and b");
    expect(connectors[0]!.reason).toContain("2.1 mm");
    expect(connectors[0]!.remedy).toContain("2.1 mm");
  });

  test("two gaps of 1.2 mm on one way are too much together", () => {
    const pieces = [box("a", 0, 0, 5, 5), box("b", 9, 0, 5, 5), box("between", 6.2, 0, 1.6, 5, REED)];
    const { strands, strandsLowerBound, breaks } = route(pieces);
    expect(strands).toBe(3);
    expect(strandsLowerBound).toBe(3);
    expect(breaks[0].reason).toContain("leaves 2.4 mm in sight");
    expect(breaks[0].reason).toContain("1.2 mm between between and b");
  });

  test("where exit and entry coincide, nothing lies between", () => {
    const { routes, connectors } = route([box("a", 0, 0, 5, 5), box("b", 4, 0, 5, 5)]);
    expect(connectors[0]).toBeNull();
    expectPoint(routes.exits[0], routes.entries[1]);
  });

  test("pieces that share an edge touch", () => {
    const { strands, connectors } = route([box("a", 0, 0, 5, 5), box("b", 5, 0, 5, 5)]);
    expect(strands).toBe(1);
    expect(connectors[0]).toBeNull();
  });
});

describe("tucked connectors", () => {
  const bridge = box("bank", -2, 1, 30, 8, REED);

  test("lie under a later piece that bridges two, a tuck margin inside its edge", () => {
    const { connectors } = route([box("a", 0, 0, 5, 10), box("b", 20, 0, 5, 10), bridge]);
    const connector = connectors[0]!;
    expect(connector.kind).toBe("tucked");
    expect(connector.exposedMm).toBe(0);
    expect(connector.marginMm).toBeCloseTo(0.8, 6);
    expect(connector.tuckedMm).toBeCloseTo(15, 3);
    for (const p of connector.points) expect(regionContains(bridge.region, p)).toBe(true);
  });

  test("keep the widest margin that lets them through where the bridge is narrow", () => {
    const { connectors } = route([
      box("a", 0, 0, 5, 10),
      box("b", 20, 0, 5, 10),
      box("twig", -2, 4, 30, 1, REED),
    ]);
    expect(connectors[0]!.kind).toBe("tucked");
    expect(connectors[0]!.marginMm).toBeGreaterThan(0.42);
    expect(connectors[0]!.marginMm).toBeLessThanOrEqual(0.5);
  });

  test("lead inland from an end on the edge", () => {
    // The bank only touches both: no margin can be kept at the ends, all of it in between.
    const { connectors } = route([
      box("a", 0, 0, 5, 5),
      box("b", 25, 0, 5, 5),
      box("bank", -5, 5, 40, 8, REED),
    ]);
    const { kind, points, exposedMm } = connectors[0]!;
    expect(kind).toBe("tucked");
    expect(exposedMm).toBe(0);
    for (const [, y] of points.slice(1, -1)) expect(y).toBeGreaterThanOrEqual(5.79);
  });

  test("a piece sewn earlier hides nothing", () => {
    const { connectors } = route([bridge, box("a", 0, 0, 5, 10), box("b", 20, 0, 5, 10)]);
    expect(connectors[1]!.kind).toBe("jump");
  });

  test("running stitches hide nothing", () => {
    const { strands } = route([
      box("a", 0, 0, 5, 10),
      box("b", 20, 0, 5, 10),
      runAlong(
        "ripple",
        [
          [-2, 5],
          [28, 5],
        ],
        REED,
      ),
    ]);
    expect(strands).toBe(3);
  });

  test("go round a bay in the cover by the shortest way", () => {
    const horseshoe = area(
      "horseshoe",
      [
        [0, 0],
        [30, 0],
        [30, 20],
        [20, 20],
        [20, 10],
        [10, 10],
        [10, 20],
        [0, 20],
      ],
      REED,
    );
    const { connectors } = route([box("a", 2, 14, 6, 5), box("b", 22, 14, 6, 5), horseshoe]);
    const connector = connectors[0]!;
    expect(connector.kind).toBe("tucked");
    // From (8, 14) round the inner corners of the bay, each 0.8 mm inside the cover.
    const inside = 0.8;
    const corner = Math.hypot(10 - inside - 8, 14 - (10 - inside));
    expect(connector.tuckedMm).toBeCloseTo(2 * corner + 10 + 2 * inside, 3);
  });

  test("dark thread keeps from under a light piece where there is another way", () => {
    const pieces = [
      box("a", 0, 0, 5, 10, NAVY),
      box("b", 20, 0, 5, 10, NAVY),
      box("sail", 3, 0, 20, 5, CREAM),
      box("hull", 3, 6, 20, 4, REED),
    ];
    const dark = route(pieces);
    expect(dark.routes.joins[0]!.shadowMm).toBe(0);
    for (const p of dark.connectors[0]!.points) expect(regionContains(pieces[3].region, p)).toBe(true);
    const onlyLight = route(pieces.slice(0, 3));
    expect(onlyLight.connectors[0]!.kind).toBe("tucked");
    expect(onlyLight.routes.joins[0]!.shadowMm).toBeGreaterThan(10);
  });
});

describe("a piece inside another of its colour", () => {
  test("is reached without a break: the outer one ends where the inner one begins", () => {
    const { connectors, strands, routes } = route([box("wing", 0, 0, 30, 30), box("eye", 12, 12, 4, 4)]);
    expect(strands).toBe(1);
    expect(connectors[0]).toBeNull();
    const [x, y] = routes.exits[0];
    expect(Math.max(Math.abs(x - 14), Math.abs(y - 14))).toBeCloseTo(2, 3);
  });
});

describe("pins and strands by hand", () => {
  const pieces = [box("a", 0, 0, 5, 10), box("b", 20, 0, 5, 10), box("bank", -2, -2, 30, 14, REED)];

  test("a pinned exit is where the connector starts", () => {
    const at: Point = [0, 9];
    const { routes, connectors } = route(pieces, [{ piece: "a", point: "exit", at }]);
    expectPoint(routes.exits[0], at);
    expectPoint(connectors[0]!.points[0], at);
    expect(connectors[0]!.kind).toBe("tucked");
  });

  test("a pinned entry is where the connector ends", () => {
    const at: Point = [25, 3];
    const { routes, connectors } = route(pieces, [{ piece: "b", point: "entry", at }]);
    expectPoint(routes.entries[1], at);
    expectPoint(connectors[0]!.points.at(-1)!, at);
  });

  test("a pin may cost a strand; the bound still says what could be", () => {
    const bare = [box("a", 0, 0, 9, 9), box("b", 8, 0, 9, 9)];
    const { strands, strandsLowerBound, breaks } = route(bare, [{ piece: "a", point: "exit", at: [0, 9] }]);
    expect(breaks[0].reason).toContain("a pin of a or b");
    expect(strandsLowerBound).toBe(1);
    expect(strands).toBe(2);
  });

  test("pieces of one strand by hand are joined whatever the gap, and the exposed thread is counted", () => {
    const wing = { strand: "wing" };
    const { strands, strandsLowerBound, connectors } = route([
      box("a", 0, 0, 5, 5, NAVY, wing),
      box("b", 11, 0, 5, 5, NAVY, wing),
    ]);
    expect(strands).toBe(1);
    expect(strandsLowerBound).toBe(1);
    expect(connectors[0]).toMatchObject({ kind: "hop" });
    expect(connectors[0]!.exposedMm).toBeCloseTo(6, 6);
  });
});

describe("whatever the frame", () => {
  const pieces = [
    box("a", 0, 0, 5, 10),
    box("b", 20, 3, 5, 10),
    box("c", 24, 0, 9, 5),
    box("bank", -2, 1, 30, 8, REED),
  ];
  const moved = (by: (p: Point) => Point): Piece[] =>
    pieces.map((piece) => {
      const outer = piece.region[0].outer.map(by);
      return {
        ...piece,
        region: [{ outer: by([0, 1])[1] * by([1, 0])[0] < 0 ? outer.reverse() : outer, holes: [] }],
      };
    });

  test.each<[string, (p: Point) => Point]>([
    ["turned", ([x, y]) => [-y, x]],
    ["shifted", ([x, y]) => [x + 100, y - 40]],
  ])("the same drawing %s has the same strands and nearly the same connectors", (_, by) => {
    const plain = route(pieces);
    const other = route(moved(by));
    expect(other.strands).toBe(plain.strands);
    expect(other.connectors.map((c) => c?.kind)).toEqual(plain.connectors.map((c) => c?.kind));
    expect(other.connectors[0]!.tuckedMm).toBeCloseTo(plain.connectors[0]!.tuckedMm, 3);
  });
});

describe("the free ends of a strand", () => {
  test("keep inside an area, so that no tie sticks out beyond its outermost rows", () => {
    const { routes } = route([box("field", 0, 0, 60, 20)]);
    for (const [x, y] of [...routes.entries, ...routes.exits])
      expect(Math.min(x, 60 - x, y, 20 - y)).toBeCloseTo(0.4, 2);
  });

  test("lie on the outline of what is narrower than that", () => {
    const { routes } = route([box("hair", 0, 0, 60, 0.6)]);
    for (const [, y] of [...routes.entries, ...routes.exits]) expect(Math.min(y, 0.6 - y)).toBeLessThan(0.01);
  });
});

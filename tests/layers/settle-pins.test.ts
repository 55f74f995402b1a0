import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Pin } from "../../core/artwork/types.ts";
import { distance, nearestOnSegment } from "../../core/geometry/point.ts";
import type { Matrix, Point } from "../../core/geometry/types.ts";
import { settlePins } from "../../core/layers/settle-pins.ts";
import { userUnits } from "../../core/layers/user-units.ts";
import { scaledToMm } from "../support/tiny-plan.ts";

/** A piece that is a slanting oar's shaft, entered on its centre line only. */
const SHAFT: readonly [Point, Point] = [
  [3, 2],
  [41, 27.3],
];
const nearestOnShaft = ({ at }: Pin): Point => nearestOnSegment(at, ...SHAFT);
const pinAt = (at: Point): Pin => ({ piece: "oar", point: "entry", at });
const written = (at: Point, userToMm: Matrix) => userUnits(userToMm).point(at, " ");

describe("a settled pin", () => {
  it("comes out as itself when its nearest legal point is written and read back", () => {
    const place = fc.double({ min: 0, max: 45, noNaN: true });
    fc.assert(
      fc.property(place, place, fc.double({ min: 0.05, max: 20, noNaN: true }), (x, y, unitMm) => {
        const userToMm = scaledToMm(unitMm);
        const [settled] = settlePins([pinAt([x, y])], nearestOnShaft, userToMm);
        const sewn = nearestOnShaft(settled);
        expect(written(sewn, userToMm)).toBe(written(settled.at, userToMm));
        expect(settlePins([settled], nearestOnShaft, userToMm)).toEqual([settled]);
        expect(distance(sewn, nearestOnShaft(pinAt([x, y])))).toBeLessThan(0.003);
      }),
      { numRuns: 500, seed: 12 },
    );
  });

  it("stays where it was put, to a rounding step, if every place is legal", () => {
    const [settled] = settlePins([pinAt([7.12345, 9.87654])], ({ at }) => at, scaledToMm(1));
    expect(settled).toEqual(pinAt([7.123, 9.877]));
  });
});

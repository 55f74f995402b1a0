import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { distance } from "../../core/geometry/point.ts";
import { nearestOnPolyline } from "../../core/geometry/polyline.ts";
import type { Polyline } from "../../core/geometry/types.ts";
import { tieIn, tieOff } from "../../core/techniques/ties.ts";

// Common practice, no source: a strand is locked by three stitches of 0.8 mm that its own stitches bury.
const TIE = { count: 3, lengthMm: 0.8 };

describe("ties", () => {
  it("ties in from 0.8 mm ahead, to and fro, and ends where the strand starts", () => {
    const strand: Polyline = [
      [0, 0],
      [2.5, 0],
      [5, 0],
    ];
    expect(tieIn(strand, TIE)).toEqual([
      [0.8, 0],
      [0, 0],
      [0.8, 0],
      [0, 0],
    ]);
  });

  it("ties off where the strand ends, back along its last stitch", () => {
    const strand: Polyline = [
      [0, 0],
      [2.5, 0],
      [5, 0],
    ];
    expect(tieOff(strand, TIE)).toEqual([
      [5, 0],
      [4.2, 0],
      [5, 0],
      [4.2, 0],
    ]);
  });

  it("begins at the strand's start when the count is even", () => {
    expect(
      tieIn(
        [
          [0, 0],
          [0, 2],
        ],
        { count: 2, lengthMm: 0.8 },
      ),
    ).toEqual([
      [0, 0],
      [0, 0.8],
      [0, 0],
    ]);
  });

  it("is as long as a first stitch that is a little too short, and so stays on it", () => {
    expect(
      tieIn(
        [
          [0, 0],
          [0.6, 0],
          [0.6, 2],
        ],
        TIE,
      )[0],
    ).toEqual([0.6, 0]);
  });

  it("goes round the corner on the following stitches when the first is far too short", () => {
    const path: Polyline = [
      [0, 0],
      [0.3, 0],
      [0.3, 2],
    ];
    expect(tieIn(path, TIE)[0][0]).toBeCloseTo(0.3, 9);
    expect(tieIn(path, TIE)[0][1]).toBeCloseTo(0.5, 9);
  });

  it("makes no stitch where there is nothing to tie to, or no tie is wanted", () => {
    expect(tieIn([[1, 1]], TIE)).toEqual([[1, 1]]);
    expect(
      tieOff(
        [
          [1, 1],
          [1, 1],
        ],
        TIE,
      ),
    ).toEqual([[1, 1]]);
    expect(
      tieIn(
        [
          [0, 0],
          [5, 0],
        ],
        { count: 0, lengthMm: 0.8 },
      ),
    ).toEqual([[0, 0]]);
  });

  it("has its holes on the strand and `count` stitches no longer than asked for, whatever the strand", () => {
    const coordinate = fc.double({ min: 0, max: 4, noNaN: true });
    const strand = fc.array(fc.tuple(coordinate, coordinate), { minLength: 2, maxLength: 6 });
    fc.assert(
      fc.property(strand, fc.integer({ min: 1, max: 5 }), (path, count) => {
        const start = path[0];
        const tie = tieIn(path, { count, lengthMm: 0.8 });
        expect(tie[tie.length - 1]).toEqual(start);
        for (const hole of tie) expect(nearestOnPolyline(hole, path).distance).toBeLessThan(1e-6);
        for (let i = 1; i < tie.length; i++)
          expect(distance(tie[i - 1], tie[i])).toBeLessThanOrEqual(0.8 + 1e-9);
        if (tie.length > 1) expect(tie).toHaveLength(count + 1);
        expect(tieOff([...path].reverse(), { count, lengthMm: 0.8 })).toEqual([...tie].reverse());
      }),
      { seed: 6, numRuns: 200 },
    );
  });
});

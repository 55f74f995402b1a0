/**
 * Thread counts and thread consumption against published worked examples.
 *
 * - Counts: vocational textbook "Shawl Weaving Artisan, Trade Theory", p. 72; the products of counts as tables for
 *   textile students print them (textilelearner.blogspot.com 2012/12 and 2014/09, onlineclothingstudy.com
 *   2011/12). Definitions of tex: ISO 1144:2016.
 * - Ticket numbers: garmentsmerchandising.com (ticket number of sewing thread),
 *   apparelmerchandisinglearner.blogspot.com 2017/05, onlineclothingstudy.com 2013/01.
 * - Lockstitch 301: textilecalculations.com (calculate amount of sewing thread consumption); the rule of thumb of
 *   2.5 times the seam is that of apparelscience.com.
 */
import { describe, expect, it } from "vitest";
import { lockstitchRatio, lockstitchThread } from "../../core/threads/consumption.ts";
import { type Count, convertCount, resultantCount } from "../../core/threads/count.ts";

describe("thread counts", () => {
  it.each([
    [30, "Ne", "denier", 177.17, 0.01],
    [60, "Nm", "tex", 16.67, 0.005],
    [20, "tex", "Ne", 29.525, 0.005],
  ] as const)("%d %s in %s is %d (textbook)", (value, from, to, expected, tolerance) => {
    expect(Math.abs(convertCount(value, from, to) - expected)).toBeLessThanOrEqual(tolerance);
  });

  it("has the products that tables print: tex × Ne 590.5, denier × Ne 5315, Nm = 1.69 Ne", () => {
    expect(convertCount(1, "Ne", "tex")).toBeCloseTo(590.5, 0);
    expect(convertCount(1, "Ne", "denier")).toBeCloseTo(5315, 0);
    expect(convertCount(1, "Ne", "Nm")).toBeCloseTo(1.69, 2);
  });

  it("has the exact ones that follow from the yard (0.9144 m) and the pound (453.59237 g)", () => {
    expect(convertCount(1, "Ne", "tex")).toBeCloseTo(590.5412474482357, 9);
    expect(convertCount(1, "Ne", "denier")).toBeCloseTo(5314.871227034121, 8);
    expect(convertCount(1, "Ne", "Nm")).toBeCloseTo(1.6933618173515572, 12);
    expect(convertCount(9, "denier", "tex")).toBe(1);
    expect(convertCount(1, "Nm", "denier")).toBe(9000);
  });

  it.each([
    ["Nm 80/2", 80, 2, "Nm", "metric ticket", 120],
    ["Nm 80/4", 80, 4, "Nm", "metric ticket", 60],
    ["Nm 60/1", 60, 1, "Nm", "metric ticket", 180],
    ["Nm 60/2", 60, 2, "Nm", "metric ticket", 90],
    ["tex 40", 40, 1, "tex", "metric ticket", 75],
    ["Ne 40/2", 40, 2, "Ne", "cotton ticket", 60],
    ["Ne 60/3", 60, 3, "Ne", "cotton ticket", 60],
    ["Ne 60/4", 60, 4, "Ne", "cotton ticket", 45],
    ["Ne 60/2", 60, 2, "Ne", "cotton ticket", 90],
  ] as const)("%s is ticket %6$d", (_, single, plies, count, ticket, expected) => {
    expect(convertCount(resultantCount(single, plies, count), count, ticket)).toBeCloseTo(expected, 9);
  });

  it("comes back to itself by way of every other count", () => {
    const counts: Count[] = ["tex", "denier", "Nm", "Ne", "metric ticket", "cotton ticket"];
    for (const from of counts)
      for (const to of counts)
        expect(convertCount(convertCount(27, from, to), to, from), `${from} ${to}`).toBeCloseTo(27, 9);
  });

  it("grows by plying where counts are direct, and shrinks where they are not", () => {
    expect(resultantCount(120, 2, "denier")).toBe(240);
    expect(resultantCount(13.3, 2, "tex")).toBe(26.6);
    expect(resultantCount(80, 2, "Nm")).toBe(40);
  });

  it.each([0, -3, Number.NaN, Number.POSITIVE_INFINITY])("refuses a count of %d", (value) => {
    expect(() => convertCount(value, "tex", "Nm")).toThrow(RangeError);
    expect(() => resultantCount(40, value, "tex")).toThrow(RangeError);
  });
});

const INCH_MM = 25.4;

/** Stitches in a straight seam, as flat needle points. */
const seam = (stitches: number, lengthMm: number): Float64Array =>
  Float64Array.from(Array.from({ length: stitches + 1 }, (_, i) => [i * lengthMm, 0]).flat());

describe("thread that a lockstitch takes", () => {
  it("is 2.2 inches an inch for 10 stitches an inch through 0.01 inch (worked example)", () => {
    expect(lockstitchRatio(0.01, 10)).toBeCloseTo(2.2, 12);
    const { needleMm, bobbinMm } = lockstitchThread(seam(10, INCH_MM / 10), 0.01 * INCH_MM);
    expect((needleMm + bobbinMm) / INCH_MM).toBeCloseTo(2.2, 12);
  });

  it("per stitch is 2 N + 2 T, half of it from the bobbin, whichever way the stitches turn", () => {
    const square = Float64Array.of(0, 0, 3, 0, 3, 3, 0, 3, 0, 0);
    expect(lockstitchThread(square, 0.5)).toEqual({ needleMm: 4 * 3.5, bobbinMm: 4 * 3.5 });
  });

  it("is about 2.5 times a seam of 2.5 mm stitches through two layers of shirting (rule of thumb)", () => {
    const { needleMm, bobbinMm } = lockstitchThread(seam(40, 2.5), 0.6);
    const ratio = (needleMm + bobbinMm) / 100;
    expect(ratio).toBeGreaterThan(2.3);
    expect(ratio).toBeLessThan(2.7);
  });

  it("takes none where nothing is sewn", () => {
    expect(lockstitchThread(new Float64Array(), 1)).toEqual({ needleMm: 0, bobbinMm: 0 });
    expect(lockstitchThread(Float64Array.of(5, 5), 1)).toEqual({ needleMm: 0, bobbinMm: 0 });
  });
});

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { plainNumber, userUnits } from "../../core/layers/user-units.ts";

describe("numbers in user units", () => {
  it("lie within 0.001 mm of the plan, without exponents, whatever a user unit is", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -6, max: 6, noNaN: true }),
        fc.double({ min: -500, max: 500, noNaN: true }),
        (unitMagnitude, mm) => {
          const unitMm = 10 ** unitMagnitude;
          const user = userUnits([unitMm, 0, 0, unitMm, 0, 0]);
          const written = user.length(mm);
          expect(written).toMatch(/^-?\d+(\.\d*[1-9])?$/);
          expect(Math.abs(Number(written) * unitMm - mm)).toBeLessThanOrEqual(0.0005 + 1e-9);
        },
      ),
      { numRuns: 500, seed: 7 },
    );
  });

  it("follow the map from user units, its shift and its stretch", () => {
    // x: two millimetres a unit, after a shift of 10 mm; y: half a millimetre a unit, upside down.
    const user = userUnits([2, 0, 0, -0.5, 10, 40]);
    expect(user.point([12, 39], " ")).toBe("1 2");
    expect(user.point([10, 40], ",")).toBe("0,0");
  });

  it("have neither a minus zero nor needless digits", () => {
    expect(plainNumber(-0.0001, 3)).toBe("0");
    expect(plainNumber(1.5, 3)).toBe("1.5");
    expect(plainNumber(1200, 0)).toBe("1200");
    expect(plainNumber(0.00000012, 9)).toBe("0.00000012");
    expect(plainNumber(-2.34567, 2)).toBe("-2.35");
  });
});

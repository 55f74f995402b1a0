/** What a planner remembers: records by their content, results by the records they were made from. */
import { describe, expect, test } from "vitest";
import { createMemory, NO_MEMORY } from "../core/memory.ts";

const feather = (id: string, x: number) => ({ id, ring: [[x, 0] as const, [x + 2, 9] as const] });

describe("records of a kind", () => {
  test("one drawn as before is the one from before, one redrawn is new", () => {
    const memory = createMemory();
    const first = [feather("feather-1", 0), feather("feather-2", 3)];
    memory.known("drawn", first);
    const [same, redrawn] = memory.known("drawn", [feather("feather-1", 0), feather("feather-2", 3.5)]);
    expect(same).toBe(first[0]);
    expect(redrawn).toEqual(feather("feather-2", 3.5));
    expect(redrawn).not.toBe(first[1]);
  });

  test("a change taken back finds what was there before it, but not for ever", () => {
    const memory = createMemory();
    const [first] = memory.known("drawn", [feather("feather-1", 0)]);
    memory.known("drawn", [feather("feather-1", 1)]);
    expect(memory.known("drawn", [feather("feather-1", 0)])[0]).toBe(first);
    memory.known("drawn", [feather("feather-1", 1)]);
    memory.known("drawn", [feather("feather-1", 2)]);
    expect(memory.known("drawn", [feather("feather-1", 0)])[0]).not.toBe(first);
  });

  test("kinds are kept apart, and what a record lacks counts", () => {
    const memory = createMemory();
    const [drawn] = memory.known("drawn", [feather("feather-1", 0)]);
    expect(memory.known("sewn", [feather("feather-1", 0)])[0]).not.toBe(drawn);
    const fixed = { ...feather("feather-1", 0), angleDeg: 30 };
    expect(memory.known("drawn", [fixed])[0]).toBe(fixed);
  });

  test("without memory every record is its own", () => {
    const records = [feather("feather-1", 0)];
    expect(NO_MEMORY.known("drawn", records)).toBe(records);
  });
});

test("a result is worked out once for the same records", () => {
  const memory = createMemory();
  const [one, other] = [feather("feather-1", 0), feather("feather-2", 3)];
  let worked = 0;
  const gap = (a: object, b: object) => memory.recall("gap", [a, b], () => ++worked);
  expect([gap(one, other), gap(one, other), gap(other, one)]).toEqual([1, 1, 2]);
});

/** Planning again with memory: only what changed is worked out anew, and the plan is the one made from scratch. */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { NO_MARKS, type Pin } from "../../core/artwork/types.ts";
import { createMemory, type Memory } from "../../core/memory.ts";
import { serialisePlan } from "../../core/output/json.ts";
import { planArtwork, readDrawing } from "../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";

const crest = readFileSync("fixtures/heron-crest.svg", "utf8");
const read = (svg: string) => readDrawing(svg, "heron-crest.svg", DEFAULT_SETTINGS).artwork;

/** A memory that counts what it had to work out, by stage. */
function countingMemory(): { memory: Memory; counts: Map<string, number> } {
  const inner = createMemory();
  const counts = new Map<string, number>();
  const memory: Memory = {
    ...inner,
    recall: (what, owners, work) =>
      inner.recall(what, owners, () => {
        const stage = what.split(" ")[0];
        counts.set(stage, (counts.get(stage) ?? 0) + 1);
        return work();
      }),
  };
  return { memory, counts };
}

describe("planning again", () => {
  const artwork = read(crest);
  const { memory, counts } = countingMemory();
  const first = planArtwork(artwork, NO_MARKS, DEFAULT_SETTINGS, [], memory);
  const feather = first.pieces.find(({ id }) => id === "feather-6")!;

  test("remembers nothing wrongly: the first plan is that from scratch", () => {
    expect(serialisePlan(first)).toBe(serialisePlan(planArtwork(artwork, NO_MARKS, DEFAULT_SETTINGS)));
  });

  test("with nothing changed, nothing is worked out", () => {
    counts.clear();
    const again = planArtwork(artwork, NO_MARKS, DEFAULT_SETTINGS, [], memory);
    expect(counts.size).toBe(0);
    expect(serialisePlan(again)).toBe(serialisePlan(first));
  });

  test("with one marker moved, only its piece's joins are looked for, and few pieces are sewn again", () => {
    const pins: Pin[] = [
      { piece: feather.id, point: "exit", at: [feather.exit[0] + 1, feather.exit[1] + 1] },
    ];
    counts.clear();
    const moved = planArtwork(artwork, { ...NO_MARKS, pins }, DEFAULT_SETTINGS, [], memory);
    expect(counts.get("offer") ?? 0).toBeLessThanOrEqual(2);
    expect(counts.get("stitcher") ?? 0).toBe(0);
    expect(counts.get("stitch") ?? 0).toBeLessThan(first.pieces.length / 3);
    expect(serialisePlan(moved)).toBe(
      serialisePlan(planArtwork(artwork, { ...NO_MARKS, pins }, DEFAULT_SETTINGS)),
    );
  });

  test("with one shape redrawn, the others keep their rows, and later joins are not looked for again", () => {
    const redrawn = read(crest.replace('id="feather-6"', 'id="feather-6" transform="translate(0.4 0.3)"'));
    counts.clear();
    const after = planArtwork(redrawn, NO_MARKS, DEFAULT_SETTINGS, [], memory);
    expect(counts.get("stitcher") ?? 0).toBeLessThan(12);
    expect(counts.get("offer") ?? 0).toBeLessThan(first.pieces.length);
    expect(serialisePlan(after)).toBe(serialisePlan(planArtwork(redrawn, NO_MARKS, DEFAULT_SETTINGS)));
  });

  test("with a setting changed, the plan is that from scratch", () => {
    const settings = { ...DEFAULT_SETTINGS, tuckMarginMm: 1.2 };
    expect(serialisePlan(planArtwork(artwork, NO_MARKS, settings, [], memory))).toBe(
      serialisePlan(planArtwork(artwork, NO_MARKS, settings)),
    );
  });
});

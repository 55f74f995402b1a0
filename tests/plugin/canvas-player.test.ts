/** The player steps through the sewing: places, and the steps from one to the next. */
import { expect, it } from "vitest";
import { countStitches } from "../../core/plan/metrics.ts";
import { isSewn } from "../../core/plan/steps.ts";
import { sewingUntil } from "../../core/plan/until.ts";
import { trackOf } from "../../plugin/canvas/needle-track.ts";
import { placeAt, stepTo, stitchCount } from "../../plugin/canvas/player.ts";
import { planOf } from "../support/plans.ts";
import { tinyPlan } from "../support/tiny-plan.ts";

const plan = tinyPlan();

it("counts the stitches that the run sheet counts", () => {
  expect(stitchCount(plan)).toBe(countStitches(plan.sewing));
});

it("has the needle where a machine that is stopped there would have it", () => {
  for (let at = 1; at <= stitchCount(plan); at++) {
    const last = sewingUntil(plan.sewing, at).findLast(isSewn)!;
    expect(placeAt(plan, at)?.point.map((v) => v.toFixed(3))).toEqual(
      [...last.points.slice(-2)].map((v) => v.toFixed(3)),
    );
    expect(placeAt(plan, at)?.role).toBe(last.role);
  }
});

it("waits over the first stitch before anything is sewn", () => {
  expect(placeAt(plan, 0)).toMatchObject({ at: 0, point: [4, 4], role: "tie-in", piece: "feather-1" });
});

it("steps by stitch and stops at either end", () => {
  const end = stitchCount(plan);
  expect(stepTo(plan, 3, "stitch", "forward")).toBe(4);
  expect(stepTo(plan, 0, "stitch", "back")).toBe(0);
  expect(stepTo(plan, end, "stitch", "forward")).toBe(end);
});

it("steps from one finished piece to the next, and back again", () => {
  const forward: string[] = [];
  for (let at = 0; at < stitchCount(plan); ) {
    at = stepTo(plan, at, "piece", "forward");
    forward.push(placeAt(plan, at)?.piece ?? "none");
  }
  expect(forward).toEqual(["feather-1", "feather-2", "feather-3", "pennant"]);
  const afterTwo = stepTo(plan, stepTo(plan, 0, "piece", "forward"), "piece", "forward");
  expect(stepTo(plan, afterTwo, "piece", "back")).toBe(stepTo(plan, 0, "piece", "forward"));
  expect(stepTo(plan, 1, "piece", "back")).toBe(0);
});

it("steps by strand over all pieces that are sewn in one go", () => {
  const at = stepTo(plan, 0, "strand", "forward");
  expect(placeAt(plan, at)).toMatchObject({ piece: "feather-2", role: "tie-off", strand: 0 });
  expect(placeAt(plan, stepTo(plan, at, "strand", "forward"))).toMatchObject({ strand: 1 });
});

it("gives ties to the piece that they hold, and connectors to none", () => {
  const owners = trackOf(plan).spans.map(({ role, piece }) => [role, piece]);
  expect(owners.slice(0, 2)).toEqual([
    ["tie-in", "feather-1"],
    ["underlay", "feather-1"],
  ]);
  expect(owners).toContainEqual(["connector", undefined]);
  expect(owners).toContainEqual(["tie-off", "feather-2"]);
});

it("has no place in a plan that sews nothing", () => {
  const empty = planOf([], []);
  expect(stitchCount(empty)).toBe(0);
  expect(placeAt(empty, 0)).toBeNull();
  expect(stepTo(empty, 0, "piece", "forward")).toBe(0);
});

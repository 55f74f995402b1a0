/** What can be pointed at: which pieces belong to it, and where it lies. */
import { apply, invert } from "../../core/artwork/matrix.ts";
import { boxOf, growBox } from "../../core/geometry/point.ts";
import type { Box, Point } from "../../core/geometry/types.ts";
import { isSewn } from "../../core/plan/steps.ts";
import type { Plan, SewnStep } from "../../core/plan/types.ts";
import type { Target } from "../session-types.ts";
import type { DrawingFacts } from "../worker/protocol.ts";

/** Bare fabric that is shown around what is brought into view. */
const AROUND_MM = 4;

/** The planned pieces that selected elements (shapes, groups, `use`s) have a part in. */
export function piecesOfElements(
  { pieces }: Pick<Plan, "pieces">,
  facts: Pick<DrawingFacts, "pieces">,
  elements: readonly string[],
): string[] {
  if (elements.length === 0) return [];
  const chosen = new Set(elements);
  const drawn = new Set(
    facts.pieces
      .filter(
        ({ id, element, groups }) =>
          chosen.has(element) ||
          groups.some((group) => chosen.has(group)) ||
          id
            .split("/")
            .slice(0, -1)
            .some((use) => chosen.has(use)),
      )
      .map(({ id }) => id),
  );
  return pieces.filter(({ id, members = [id] }) => members.some((one) => drawn.has(one))).map(({ id }) => id);
}

/** The pieces of a strand or block, in needle order. */
function piecesSewnIn(plan: Plan, isIn: (step: SewnStep) => boolean): string[] {
  const ids = plan.sewing
    .filter(isSewn)
    .filter(isIn)
    .flatMap(({ piece }) => piece ?? []);
  return [...new Set(ids)];
}

export function piecesOfTarget(plan: Plan, target: Target): readonly string[] {
  switch (target.kind) {
    case "piece":
      return [target.id];
    case "marker":
      return [target.piece];
    case "strand":
      return piecesSewnIn(plan, ({ strand }) => strand === target.index);
    case "block":
      return piecesSewnIn(plan, ({ block }) => block === target.index);
    case "finding": {
      const piece = plan.findings[target.index]?.piece;
      return plan.pieces.filter(({ id, element }) => id === piece || element === piece).map(({ id }) => id);
    }
    case "connector":
      return [];
  }
}

/** Where it lies, in the root's user units; `null` where it has no place. */
export function placeOfTarget(
  plan: Plan,
  target: Target,
): { x: number; y: number; width: number; height: number } | null {
  const box = boxInMm(plan, target);
  if (!Number.isFinite(box.minX)) return null;
  const toUser = invert(plan.userToMm);
  const { minX, minY, maxX, maxY } = growBox(box, AROUND_MM);
  const corners = [
    [minX, minY],
    [maxX, minY],
    [minX, maxY],
    [maxX, maxY],
  ] as const;
  const user = boxOf(corners.map((corner) => apply(toUser, corner)));
  return { x: user.minX, y: user.minY, width: user.maxX - user.minX, height: user.maxY - user.minY };
}

function boxInMm(plan: Plan, target: Target): Box {
  if (target.kind === "connector")
    return boxOf(plan.connectors.find(({ id }) => id === target.id)?.points ?? []);
  if (target.kind === "marker") {
    const piece = plan.pieces.find(({ id }) => id === target.piece);
    return boxOf(piece === undefined ? [] : [piece[target.point]]);
  }
  const at = target.kind === "finding" ? plan.findings[target.index]?.at : undefined;
  if (at !== undefined) return boxOf([at]);
  const pieces = new Set(piecesOfTarget(plan, target));
  return boxOf([...stitchesOf(plan, pieces)]);
}

function* stitchesOf(plan: Plan, pieces: ReadonlySet<string>): Generator<Point> {
  for (const step of plan.sewing) {
    if (!isSewn(step) || step.piece === undefined || !pieces.has(step.piece)) continue;
    for (let k = 0; k + 1 < step.points.length; k += 2) yield [step.points[k], step.points[k + 1]];
  }
}

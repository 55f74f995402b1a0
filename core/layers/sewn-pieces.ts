/**
 * The sewing, told piece by piece. A tie belongs to the piece it holds down: a tie-in to the next piece that is
 * sewn, a tie-off to the last one, unless the step names its piece itself.
 */
import { isSewn } from "../plan/steps.ts";
import type { Plan, PlannedPiece, SewnRole, SewnStep } from "../plan/types.ts";

export interface SewnPiece {
  readonly piece: PlannedPiece;
  readonly block: number;
  /** Everything but connectors, in needle order. */
  readonly steps: readonly SewnStep[];
}

/** Each piece that is sewn, in sewing order. */
export function sewnPieces(plan: Plan): SewnPiece[] {
  const stepsOf = new Map<string, SewnStep[]>();
  let tieIns: SewnStep[] = [];
  let last: string | undefined;

  for (const step of plan.sewing) {
    if (!isSewn(step) || step.role === "connector") continue;
    if (step.piece === undefined && step.role === "tie-in") {
      tieIns.push(step);
      continue;
    }
    const piece = step.piece ?? last;
    if (piece === undefined) continue;
    const steps = stepsOf.get(piece) ?? [];
    steps.push(...tieIns, step);
    stepsOf.set(piece, steps);
    tieIns = [];
    last = piece;
  }

  return [...plan.pieces]
    .sort((a, b) => a.order - b.order)
    .flatMap((piece) => {
      const steps = stepsOf.get(piece.id);
      return steps === undefined ? [] : [{ piece, block: steps[0].block, steps }];
    });
}

/** Whether a step ties thread down. */
export const isTie = (role: SewnRole): boolean => role === "tie-in" || role === "tie-off";

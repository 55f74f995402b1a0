/** The sew-out of a plan as colours, and how much of it differs from another's: what is seen, whatever was sewn first. */
import { paintSewOut } from "../../core/plan/sew-out.ts";
import { isSewn } from "../../core/plan/steps.ts";
import type { Plan } from "../../core/plan/types.ts";

/** The share of the picture's pixels, 0 to 1, in which two plans of one drawing differ. */
export function shareDifferent(one: Plan, other: Plan): number {
  const [a, b] = [colourPicture(one), colourPicture(other)];
  let different = 0;
  for (let pixel = 0; pixel < a.length; pixel++) if (a[pixel] !== b[pixel]) different++;
  return different / Math.max(1, a.length);
}

/** The colour of the thread on top of each pixel, as a number; -1 where the fabric is bare. */
function colourPicture({ pieces, sewing, size }: Plan): Int32Array {
  const colourOfPiece = new Map(pieces.map(({ id, colour }) => [id, Number.parseInt(colour.slice(1), 16)]));
  const colourOfBlock = new Map<number, number>();
  for (const step of sewing)
    if (isSewn(step) && step.piece !== undefined)
      colourOfBlock.set(step.block, colourOfPiece.get(step.piece)!);
  const colours = sewing.map((step) => (isSewn(step) ? colourOfBlock.get(step.block)! : -1));
  return paintSewOut(sewing, size).top.map((step) => (step < 0 ? -1 : colours[step]));
}

/** The layer of stitches: a group per block, in it a group per piece in sewing order, in it a polyline a part. */
import type { SewnRole, SewnStep } from "../plan/types.ts";
import { lineStyle, shade } from "./ink.ts";
import { type Drawing, layer } from "./layer.ts";
import { isTie, type SewnPiece } from "./sewn-pieces.ts";
import { polylinePoints } from "./user-units.ts";

type Part = "underlay" | "cover" | "travel" | "tie";

const COVER_WIDTH_MM = 0.35;
const INNER_WIDTH_MM = 0.2;
const INNER_OPACITY = 0.5;

export function stitchesLayer(pieces: readonly SewnPiece[], drawing: Drawing): string {
  return layer(
    "stitches",
    drawing,
    byBlock(pieces).map((inBlock) => blockGroup(inBlock, drawing)),
  );
}

/** Runs of pieces that belong to one block. */
function byBlock(pieces: readonly SewnPiece[]): SewnPiece[][] {
  const blocks: SewnPiece[][] = [];
  for (const sewn of pieces) {
    const current = blocks.at(-1);
    if (current?.[0].block === sewn.block) current.push(sewn);
    else blocks.push([sewn]);
  }
  return blocks;
}

const blockGroup = (pieces: readonly SewnPiece[], drawing: Drawing): string =>
  drawing.svg.element(
    "g",
    {
      "data-tuck-block": pieces[0].block,
      "data-tuck-colour": pieces[0].piece.colour,
      "data-tuck-thread": pieces[0].piece.thread?.name,
      "data-tuck-code": pieces[0].piece.thread?.code || undefined,
    },
    pieces.map((sewn) => pieceGroup(sewn, drawing)),
  );

const pieceGroup = ({ piece, steps }: SewnPiece, drawing: Drawing): string =>
  drawing.svg.element(
    "g",
    {
      "data-tuck-piece": piece.id,
      "data-tuck-members": piece.members?.join(" "),
      "data-tuck-order": piece.order,
    },
    steps.map((step) => partLine(step, piece.colour, drawing)),
  );

function partLine(step: SewnStep, colour: string, { svg, user }: Drawing): string {
  const part = partOf(step.role);
  const isTop = part === "cover" || part === "tie";
  return svg.element("polyline", {
    "data-tuck-part": part,
    points: polylinePoints(step.points, user),
    style: lineStyle(
      {
        colour: shade(colour),
        widthMm: part === "cover" ? COVER_WIDTH_MM : INNER_WIDTH_MM,
        ...(isTop ? {} : { opacity: INNER_OPACITY }),
      },
      user,
    ),
  });
}

const partOf = (role: SewnRole): Part => (isTie(role) ? "tie" : (role as "underlay" | "cover" | "travel"));

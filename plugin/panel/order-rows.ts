/** Rows of the order list: a tree laid flat, without what lies in collapsed rows. */
import type { PlannedPiece } from "../../core/plan/types.ts";
import type { Connector } from "../../core/routing/types.ts";
import type { Target } from "../session-types.ts";
import type { ListedBlock, ListedStrand } from "./sewing-order.ts";

interface Place {
  /** Unique, and the same for the same thing in the next plan. */
  readonly key: string;
  readonly level: number;
  /** Its number among those beside it, from 1, and how many they are. */
  readonly position: number;
  readonly count: number;
  readonly target: Target;
}

export type OrderRow =
  | (Place & { readonly kind: "block"; readonly block: ListedBlock })
  | (Place & { readonly kind: "strand"; readonly strand: ListedStrand })
  | (Place & { readonly kind: "piece"; readonly piece: PlannedPiece; readonly colour: string });

export function orderRows(blocks: readonly ListedBlock[], collapsed: ReadonlySet<string>): OrderRow[] {
  const rows: OrderRow[] = [];
  for (const [b, block] of blocks.entries()) {
    const key = `block ${block.index}`;
    const target = { kind: "block", index: block.index } as const;
    rows.push({ kind: "block", key, level: 1, position: b + 1, count: blocks.length, target, block });
    if (!collapsed.has(key)) rows.push(...strandRows(block, collapsed));
  }
  return rows;
}

function strandRows({ strands }: ListedBlock, collapsed: ReadonlySet<string>): OrderRow[] {
  return strands.flatMap((strand, s): OrderRow[] => {
    const key = `strand ${strand.index}`;
    const target = { kind: "strand", index: strand.index } as const;
    const { pieces } = strand;
    return [
      { kind: "strand", key, level: 2, position: s + 1, count: strands.length, target, strand },
      ...(collapsed.has(key) ? [] : pieces).map((piece, p): OrderRow => {
        const own = { kind: "piece", id: piece.id } as const;
        const { colour } = piece;
        return {
          kind: "piece",
          key: `piece ${piece.id}`,
          level: 3,
          position: p + 1,
          count: pieces.length,
          target: own,
          piece,
          colour,
        };
      }),
    ];
  });
}

/** The row that stands for what is pointed at: its own, or, of a connector, that of the piece it leaves. */
export function rowKeyOf(target: Target | null, connectors: readonly Connector[]): string | null {
  switch (target?.kind) {
    case "connector": {
      const from = connectors.find(({ id }) => id === target.id)?.from;
      return from === undefined ? null : `piece ${from}`;
    }
    case "piece":
      return `piece ${target.id}`;
    case "marker":
      return `piece ${target.piece}`;
    case "strand":
    case "block":
      return `${target.kind} ${target.index}`;
    default:
      return null;
  }
}

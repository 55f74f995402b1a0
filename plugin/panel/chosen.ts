/** What the piece editor shows of the selected elements: what each sets itself, and what holds where it doesn't. */
import type { PieceOverrides } from "../../core/artwork/types.ts";
import type { DrawingFacts, DrawnPiece } from "../worker/protocol.ts";
import type { OverrideName } from "./edits.ts";

const KEYS: { readonly [Name in OverrideName]: keyof PieceOverrides } = {
  technique: "technique",
  angle: "angleDeg",
  spacing: "spacingMm",
  length: "lengthMm",
  pull: "pullMm",
  underlay: "underlay",
  strand: "strand",
};

export interface Chosen {
  /** Elements and groups that are selected and paint something. */
  readonly elements: readonly string[];
  readonly pieces: readonly DrawnPiece[];
}

export function chosenOf(facts: DrawingFacts, selected: readonly string[]): Chosen {
  const piecesOf = (name: string): DrawnPiece[] =>
    facts.pieces.filter(
      ({ id, element, groups }) =>
        element === name || groups.includes(name) || id.split("/").slice(0, -1).includes(name),
    );
  const elements = selected.filter((name) => piecesOf(name).length > 0);
  return { elements, pieces: [...new Set(elements.flatMap(piecesOf))] };
}

/** What the elements set themselves: `null` nothing, `undefined` not all the same. */
export function ownValue(
  { own }: DrawingFacts,
  elements: readonly string[],
  name: OverrideName,
): string | null | undefined {
  const values = elements.map(
    (element) =>
      own.find((set) => set.element === element && set.attribute === `data-tuck-${name}`)?.value ?? null,
  );
  return values.every((value) => value === values[0]) ? (values[0] ?? null) : undefined;
}

/** What holds for the pieces: from a group around them, or themselves; `undefined` where nothing is set or they differ. */
export function heldValue(pieces: readonly DrawnPiece[], name: OverrideName): string | undefined {
  const values = pieces.map(({ overrides }) => overrides[KEYS[name]]);
  const [first] = values;
  return first !== undefined && values.every((value) => value === first) ? String(first) : undefined;
}

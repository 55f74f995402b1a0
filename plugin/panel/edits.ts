/**
 * What the panel's actions change in the drawing: `data-tuck-*` attributes of the artist's elements, and of the
 * document. Pure: from what is known of the drawing to the edits that make the wish so.
 */
import type { Piece, Pin } from "../../core/artwork/types.ts";
import type { Matrix, Point } from "../../core/geometry/types.ts";
import { userUnits } from "../../core/layers/user-units.ts";
import type { PlannedPiece } from "../../core/plan/types.ts";
import type { AttributeEdit } from "../editor-host.ts";
import type { DrawingFacts } from "../worker/protocol.ts";

/** What edits are made from. */
export interface Known {
  readonly facts: DrawingFacts;
  readonly pieces: readonly PlannedPiece[];
  readonly userToMm: Matrix;
}

type EndPoint = "entry" | "exit";
type Sewn = Pick<Piece, "id" | "element" | "paint">;

const set = (element: string | null, name: AttributeEdit["name"], value: string | null): AttributeEdit => ({
  element,
  name,
  value,
});

/** Ids of the drawn pieces that a planned piece is made of: itself, or the members of a network. */
export const membersOf = (known: Pick<Known, "pieces">, piece: string): readonly string[] =>
  known.pieces.find(({ id }) => id === piece)?.members ?? [piece];

/** The elements that paint these pieces, each once. */
export function elementsOf(known: Pick<Known, "facts" | "pieces">, pieces: readonly string[]): string[] {
  const ids = new Set(pieces.flatMap((piece) => membersOf(known, piece)));
  const drawn = known.facts.pieces.filter(({ id }) => ids.has(id)).map(({ element }) => element);
  const planned = known.pieces.filter(({ id }) => pieces.includes(id)).map(({ element }) => element);
  return [...new Set([...drawn, ...planned])];
}

const pinName = (known: Known, { element, paint }: Sewn, point: EndPoint): AttributeEdit["name"] => {
  const isOfStroke =
    paint === "stroke" && known.facts.pieces.some((one) => one.element === element && one.paint === "fill");
  return `data-tuck-${point}${isOfStroke ? "-stroke" : ""}`;
};

/** Whether an attribute says it, be it that a marker or connector in layers was moved since and counts. */
const isOnElement = ({ by, over }: Pick<Pin, "by" | "over">): boolean =>
  by === "element" || over !== undefined;

/** Fixes where a piece is entered or left, or frees it again. Of a network, pins on other members make way. */
export function pinEdits(known: Known, piece: string, point: EndPoint, at: Point | null): AttributeEdit[] {
  const planned = known.pieces.find(({ id }) => id === piece);
  if (planned === undefined) return [];
  const ids = new Set([piece, ...membersOf(known, piece)]);
  const pinned = new Set(
    known.facts.marks.pins
      .filter((pin) => isOnElement(pin) && pin.point === point && ids.has(pin.piece))
      .map((pin) => pin.piece),
  );
  const freed = known.facts.pieces
    .filter(({ id, element }) => pinned.has(id) && (at === null || element !== planned.element))
    .map((one) => set(one.element, pinName(known, one, point), null));
  if (at === null) return freed;
  const place = userUnits(known.userToMm).point(at, " ");
  return [...freed, set(planned.element, pinName(known, planned, point), place)];
}

/** Leads the connector between two pieces through points; through none, it finds its own way again. */
export function bendEdits(
  known: Known,
  from: string,
  to: string,
  through: readonly Point[],
): AttributeEdit[] {
  const user = userUnits(known.userToMm);
  const [element] = elementsOf(known, [from]);
  if (element === undefined) return [];
  const own = new Set([from, ...membersOf(known, from)]);
  const kept = known.facts.marks.bends.filter(
    (bend) => isOnElement(bend) && bend.from.some((piece) => own.has(piece)) && bend.to !== to,
  );
  const bends = [...kept, ...(through.length > 0 ? [{ to, through }] : [])];
  const text = bends
    .map((bend) => [bend.to, ...bend.through.map((p) => user.point(p, " "))].join(" "))
    .join("; ");
  return [set(element, "data-tuck-bend", text === "" ? null : text)];
}

/** Gives pieces their place in the drawing back. */
export const releaseOrderEdits = (known: Known, pieces: readonly string[]): AttributeEdit[] =>
  elementsOf(known, pieces)
    .filter((element) => known.facts.marks.after.some((wish) => wish.element === element))
    .map((element) => set(element, "data-tuck-after", null));

export type OverrideName = "technique" | "angle" | "spacing" | "length" | "pull" | "underlay" | "strand";

/** Sets how elements are sewn; `null`: as the drawing decides. */
export const overrideEdits = (
  elements: readonly string[],
  name: OverrideName,
  value: string | number | null,
): AttributeEdit[] =>
  elements.map((element) => set(element, `data-tuck-${name}`, value === null ? null : String(value)));

/** A name for a new strand that no element of the drawing uses: `strand-1`. */
export function newStrandName(facts: DrawingFacts): string {
  const taken = new Set(
    facts.own.filter(({ attribute }) => attribute === "data-tuck-strand").map(({ value }) => value),
  );
  let n = 1;
  while (taken.has(`strand-${n}`)) n++;
  return `strand-${n}`;
}

/** The drawing's own settings with one of them set, or, by `undefined`, left to what is given elsewhere. */
export function settingEdit(facts: DrawingFacts, changes: Readonly<Record<string, unknown>>): AttributeEdit {
  const values = Object.entries({ ...facts.settings, ...changes }).filter(([, value]) => value !== undefined);
  const text = values.map(([setting, value]) => `${setting}=${value}`).join("; ");
  return set(null, "data-tuck-settings", text === "" ? null : text);
}

/** What the layers of a planned drawing say: its pieces by block, and what joins them. No geometry is read. */
import { isOwn } from "../artwork/own-layers.ts";
import type { XmlElement } from "../artwork/xml.ts";

export interface LayeredPiece {
  readonly id: string;
  /** The ids of the pieces that were sewn as this one; its own alone where it is no network. */
  readonly members: readonly string[];
  /** Sewing number, from 1. */
  readonly order: number;
  /** From 0. */
  readonly block: number;
}

export interface Layers {
  /** In sewing order. */
  readonly pieces: readonly LayeredPiece[];
  /** The pieces after which the machine jumps to the next piece of the same block. */
  readonly jumpsAfter: ReadonlySet<string>;
}

/** The layers below a drawing's root; null where it holds none. Elements that an editor spoilt are passed over. */
export function readLayers(root: XmlElement): Layers | null {
  const own = elementsBelow(root).filter(isOwn);
  if (!own.some(({ attributes }) => attributes["data-tuck-role"] === "stitches")) return null;
  const pieces = own.flatMap(layeredPiece).sort((a, b) => a.order - b.order);
  const jumps = own.filter(({ attributes }) => attributes["data-tuck-kind"] === "jump");
  return { pieces, jumpsAfter: new Set(jumps.map(({ attributes }) => attributes["data-tuck-from"])) };
}

function layeredPiece({ attributes, parent }: XmlElement): LayeredPiece[] {
  const id = attributes["data-tuck-piece"];
  const members = attributes["data-tuck-members"]?.split(/\s+/) ?? [id];
  const order = Number(attributes["data-tuck-order"]);
  const block = Number(parent?.attributes["data-tuck-block"]);
  return id !== undefined && Number.isInteger(order) && Number.isInteger(block)
    ? [{ id, members, order, block }]
    : [];
}

function elementsBelow(element: XmlElement): XmlElement[] {
  return element.children.flatMap((child) => (child.type === "text" ? [] : [child, ...elementsBelow(child)]));
}

/**
 * Which of the layers are written, and which of those are seen. The artist's choice outlives planning again: a
 * hidden layer stays hidden (editors say so by `display`, as attribute or style), and what was left out on
 * request is told in the record of the sewn size, since a layer that is merely missing was deleted and comes back.
 */
import { isOwn } from "../artwork/own-layers.ts";
import { elementsIn } from "../artwork/tree.ts";
import type { XmlElement } from "../artwork/xml.ts";

export const LAYER_ROLES = ["stitches", "connectors", "points", "cut-line", "findings"] as const;
export type LayerRole = (typeof LAYER_ROLES)[number];

export type LayerState = "shown" | "hidden" | "left-out";

/** Absent: shown. */
export type LayerStates = { readonly [Role in LayerRole]?: LayerState };

/** On the record of the sewn size: the roles that are left out, with spaces between. */
export const LEFT_OUT_ATTRIBUTE = "data-tuck-left-out";

/** The value of that attribute; undefined where nothing is left out. */
export const leftOutText = (states: LayerStates): string | undefined =>
  LAYER_ROLES.filter((role) => states[role] === "left-out").join(" ") || undefined;

/** The states of the layers in a planned drawing; none where it was never planned. */
export function readLayerStates(root: XmlElement): LayerStates {
  const states: { -readonly [Role in LayerRole]?: LayerState } = {};
  for (const element of ownBelow(root)) {
    for (const word of element.attributes[LEFT_OUT_ATTRIBUTE]?.split(/\s+/) ?? [])
      if (isRole(word)) states[word] = "left-out";
    const role = element.attributes["data-tuck-role"];
    if (isRole(role)) states[role] = isHidden(element) ? "hidden" : "shown";
  }
  return states;
}

const isRole = (text: string | undefined): text is LayerRole => LAYER_ROLES.some((role) => role === text);

const isHidden = ({ attributes }: XmlElement): boolean =>
  attributes.display?.trim() === "none" || /(?:^|;)\s*display\s*:\s*none\b/.test(attributes.style ?? "");

/** Outermost own elements: layers, the record of the size, and what an editor moved elsewhere. */
function ownBelow(element: XmlElement): XmlElement[] {
  return elementsIn(element).flatMap((child) => (isOwn(child) ? [child] : ownBelow(child)));
}

/**
 * Own elements: what Tuckline added to a drawing, as opposed to what the artist drew. Each is known by an
 * attribute that Tuckline alone writes. `data-tuck-role` marks a layer; the others mark what lies in one, so
 * that a marker which the artist dragged into another layer is still known as ours. What an artist may set on
 * an artwork element (`data-tuck-technique`, `data-tuck-angle` …) makes it no own element.
 *
 * Guests: what the artist drew on one of our layers, as happens in editors that draw on the layer of whatever was
 * clicked last. They are artwork: planned like all other, and kept when the layer goes.
 */
import { elementsIn } from "./tree.ts";
import type { XmlElement } from "./xml.ts";

const OWN_ATTRIBUTES = [
  "data-tuck-role",
  "data-tuck-block",
  "data-tuck-piece",
  "data-tuck-part",
  "data-tuck-from",
  "data-tuck-point",
  "data-tuck-code",
] as const;

/**
 * Set on an own element where the root was written `<svg …/>` before layers were added: removing them closes
 * it that way again.
 */
export const ROOT_WAS_EMPTY = { name: "data-tuck-root", value: "empty" } as const;

/** Whether Tuckline added this element (and with it all that is inside). */
export const isOwn = (element: XmlElement): boolean =>
  OWN_ATTRIBUTES.some((name) => Object.hasOwn(element.attributes, name));

/** What is on a layer that is neither ours nor artwork. */
const DESCRIPTIVE: ReadonlySet<string> = new Set(["title", "desc", "metadata"]);

/** The guests on an own layer; none of any other element. */
export const guestsIn = (layer: XmlElement): XmlElement[] =>
  Object.hasOwn(layer.attributes, "data-tuck-role") && layer.name === "g"
    ? elementsIn(layer).filter((child) => !isOwn(child) && !DESCRIPTIVE.has(child.name))
    : [];

/**
 * The text with every own element cut out, wherever it stands, and no other byte touched. `root` is what
 * `parseXml(text)` returned. What an editor added to our `metadata` element is kept, and guests on a layer stay
 * behind in a plain group with its transform and style.
 */
export function withoutLayers(text: string, root: XmlElement): string {
  const own = outermostOwn(root);
  if (own.length === 0) return text;

  let kept = "";
  let from = 0;
  for (const element of own) {
    kept += text.slice(from, element.start) + foreignInside(text, element);
    from = element.end;
  }
  const inside = kept.length - root.openEnd + (root.closeStart - from);
  if (inside === 0 && own.some(marksEmptyRoot))
    return `${text.slice(0, root.openEnd - 1)}/>${text.slice(root.end)}`;
  return kept + text.slice(from);
}

const OWN_ATTRIBUTE = /\s+data-tuck-(?!settings\b)[\w-]+\s*=\s*(?:"[^"]*"|'[^']*')/g;

/** What makes a group a layer in editors. */
const LAYER_ATTRIBUTE =
  /\s+(?:class|inkscape:(?:groupmode|label)|sodipodi:insensitive)\s*=\s*(?:"[^"]*"|'[^']*')/g;

/**
 * Desktop editors write authorship and licence into the first `metadata` element they find, ours if need be.
 * That is the artist's, as are the settings that a drawing carries: the element stays for them, without our
 * attributes.
 */
function foreignInside(text: string, element: XmlElement): string {
  const { name, attributes, children, start, openEnd, closeStart, end } = element;
  const guests = guestsIn(element);
  if (guests.length > 0)
    return [
      text.slice(start, openEnd).replace(OWN_ATTRIBUTE, "").replace(LAYER_ATTRIBUTE, ""),
      ...guests.map((guest) => text.slice(guest.start, guest.end)),
      text.slice(closeStart, end),
    ].join("");
  const isForeign =
    children.some(({ type }) => type === "element") || Object.hasOwn(attributes, "data-tuck-settings");
  if (name !== "metadata" || !isForeign) return "";
  return text.slice(start, openEnd).replace(OWN_ATTRIBUTE, "") + text.slice(openEnd, end);
}

const marksEmptyRoot = ({ attributes }: XmlElement): boolean =>
  attributes[ROOT_WAS_EMPTY.name] === ROOT_WAS_EMPTY.value;

/** Own elements below `element` that lie in no other one, in the order of the text. */
function outermostOwn(element: XmlElement): XmlElement[] {
  return element.children.flatMap((child) => {
    if (child.type === "text") return [];
    return isOwn(child) ? [child] : outermostOwn(child);
  });
}

/** What a drawing holds that the editor cannot show: it stays in the file, but the artist should know. */
import type { XmlElement } from "../../../core/artwork/xml.ts";
import { isKnown, SVG_NAMESPACE } from "./vocabulary.ts";

/** Names of SVG elements that the editor was not given, with how many there are: `2 animate, 1 foreignObject`. */
export function unshown(root: XmlElement): string {
  const counts = new Map<string, number>();
  const count = (name: string): unknown => counts.set(name, (counts.get(name) ?? 0) + 1);
  const visit = (element: XmlElement): void => {
    if (element.name === "metadata") return;
    for (const child of element.children) {
      if (child.type === "text") continue;
      if (isKnown(child)) visit(child);
      // Editors keep notes for themselves in namespaces of their own; those were never to be seen.
      else if (child.namespace === SVG_NAMESPACE && child.name !== "script") count(child.name);
    }
    if (element.name === "image" && !/^\s*data:/.test(hrefOf(element))) count("linked image");
  };
  visit(root);
  return [...counts].map(([name, number]) => `${number} ${name}`).join(", ");
}

const hrefOf = ({ attributes }: XmlElement): string => attributes.href ?? attributes["xlink:href"] ?? "";

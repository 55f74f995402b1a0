/** What the editor knows of SVG, and what of that is drawn. Anything else it would take apart on loading. */
import type { XmlElement } from "../../../core/artwork/xml.ts";

export const SVG_NAMESPACE = "http://www.w3.org/2000/svg";
export const XLINK_NAMESPACE = "http://www.w3.org/1999/xlink";

const DRAWN = new Set(
  "a circle ellipse g image line path polygon polyline rect svg switch text tspan textPath use".split(" "),
);

const KEPT = new Set(
  `clipPath defs desc filter linearGradient marker mask metadata pattern radialGradient stop style symbol title
   feBlend feColorMatrix feComponentTransfer feComposite feConvolveMatrix feDiffuseLighting feDisplacementMap
   feFlood feFuncA feFuncB feFuncG feFuncR feGaussianBlur feMerge feMergeNode feMorphology feOffset
   feSpecularLighting feTile feTurbulence`.split(/\s+/),
);

/** Whether the editor is given this element. */
export const isKnown = ({ name, namespace }: XmlElement): boolean =>
  namespace === SVG_NAMESPACE && (DRAWN.has(name) || KEPT.has(name));

/** Whether the element paints something where it stands, or groups what does. */
export const isDrawn = ({ name, namespace }: XmlElement): boolean =>
  namespace === SVG_NAMESPACE && DRAWN.has(name);

/** The same of an element in the editor. */
export const isDrawnName = (name: string): boolean => DRAWN.has(name);

/**
 * Taking a planned drawing back to its artwork. What Tuckline writes it writes between two bytes of the
 * artwork, white space included, so that cutting the own elements out restores the file byte for byte.
 */
import { withoutLayers } from "../artwork/own-layers.ts";
import { parseXml } from "../artwork/xml.ts";

/**
 * The drawing without anything that Tuckline added, also where an editor moved it elsewhere. Settings that the
 * artist put on artwork elements (`data-tuck-technique` and the like) are the artist's and stay.
 *
 * @throws ArtworkError where the text is not well-formed XML
 */
export const strip = (svgText: string): string => withoutLayers(svgText, parseXml(svgText));

/**
 * Nodes of paths as vector editors count them: the points that a subpath's segments begin and end at, from 0; a
 * closed subpath's last point, where it is its first again, is no node of its own. Subpaths that draw nothing are
 * not counted.
 *
 * A desktop editor turns each arc into curves when a path is edited by its nodes, and says nowhere into how many:
 * nodes beyond an arc cannot be counted. Where a path is the outcome of a live effect, its nodes are those of the
 * path that the effect is applied to.
 */
import type { Point } from "../geometry/types.ts";
import { Drawing } from "./drawing.ts";
import { apply } from "./matrix.ts";
import type { Outline, Subpath } from "./outline.ts";
import { readPathData } from "./path-data.ts";
import { shapesInUserUnits } from "./read.ts";
import type { XmlElement } from "./xml.ts";

/** Of paths with live effects: the path before the effect, as Inkscape keeps it. */
const BEFORE_EFFECT = "inkscape:original-d";

/**
 * Where a node lies, in the root's user units, through every transform.
 *
 * @param root what `parseXml` made of the drawing
 * @param element the path's id
 * @returns `"missing"` where there is no such node, `"beyond-arc"` where it cannot be counted
 */
export function nodePlace(
  root: XmlElement,
  element: string,
  subpath: number,
  node: number,
): Point | "missing" | "beyond-arc" {
  const shape = shapesInUserUnits(new Drawing(root)).find(({ name }) => name === element);
  if (shape === undefined) return "missing";
  const before = shape.element.attributes[BEFORE_EFFECT];
  const outline: Outline = before === undefined ? shape.outline : readPathData(before).outline;
  const counted = outline.filter(({ segments }) => segments.length > 0)[subpath];
  if (counted === undefined) return "missing";
  const firstArc = counted.segments.findIndex(({ kind }) => kind === "arc");
  if (firstArc >= 0 && node > firstArc) return "beyond-arc";
  const at = nodesOf(counted)[node];
  return at === undefined ? "missing" : apply(shape.toMm, at);
}

function nodesOf({ start, segments, closed }: Subpath): Point[] {
  const nodes = [start, ...segments.map(({ to }) => to)];
  const last = nodes[nodes.length - 1];
  const returns = closed && last[0] === start[0] && last[1] === start[1];
  return returns ? nodes.slice(0, -1) : nodes;
}

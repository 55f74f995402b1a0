/**
 * What was read from a machine file, as a drawing in millimetres: a group for each block, in it a line for each
 * strand through its needle points, and the ways without thread as dashes. To look at, and to start from where the
 * artwork is lost; what the pieces once were, no machine file says.
 */
import { markup } from "../layers/markup.ts";
import { isSewn } from "../plan/steps.ts";
import type { SewnStep } from "../plan/types.ts";
import type { MachineDesign } from "./machine-reader.ts";

const THREAD_WIDTH_MM = 0.4;

/** The drawing as a whole SVG document. */
export function machineDrawing({ size, sewing, pieces, header }: MachineDesign): string {
  const { element, text } = markup("");
  const strands = sewing.filter(isSewn).filter(({ role }) => role === "cover");
  const blocks = pieces.map(({ id, colour }, block) =>
    element("g", { id, class: "layer", stroke: colour, "stroke-width": THREAD_WIDTH_MM }, [
      text("title", `Block ${block + 1}`),
      ...strands
        .filter((strand) => strand.block === block)
        .map(({ points }) => element("polyline", { points: pairs(points) })),
    ]),
  );
  const ways = strands.slice(1).map((strand, k) => wayBetween(strands[k], strand));
  const dashes = element(
    "g",
    {
      id: "jumps",
      class: "layer",
      stroke: "#555555",
      "stroke-width": 0.15,
      "stroke-dasharray": "0.6 0.6",
      "data-tuck-technique": "skip",
    },
    [text("title", "Jumps"), ...ways.map((points) => element("polyline", { points: pairs(points) }))],
  );
  const [width, height] = [tenths(size.widthMm), tenths(size.heightMm)];
  return `${element(
    "svg",
    {
      xmlns: "http://www.w3.org/2000/svg",
      width: `${width}mm`,
      height: `${height}mm`,
      viewBox: `0 0 ${width} ${height}`,
      overflow: "visible",
      fill: "none",
      "stroke-linecap": "round",
      "stroke-linejoin": "round",
    },
    [text("title", header.name), ...blocks, dashes],
  )}\n`;
}

const wayBetween = (from: SewnStep, to: SewnStep): number[] => [
  ...from.points.slice(-2),
  ...to.points.slice(0, 2),
];

/** The file counts in tenths of a millimetre: anything finer is noise of the arithmetic. */
const tenths = (valueMm: number): number => Math.round(valueMm * 10) / 10 + 0;

function pairs(points: ArrayLike<number>): string {
  const text: string[] = [];
  for (let k = 0; k + 1 < points.length; k += 2) text.push(`${tenths(points[k])},${tenths(points[k + 1])}`);
  return text.join(" ");
}

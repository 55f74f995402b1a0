/**
 * The run sheet: the page that goes to the machine with the design. One HTML file to print on A4, without scripts
 * and without anything from elsewhere.
 *
 * The picture is at true scale where the page has room for it beside all that must be said; else it is drawn to
 * scale on the first page, and true to size on a second one if it fits there. Room is reckoned from what takes it:
 * the rows of the table, the lines of the notes.
 */

import { groupFindings } from "../../finding-groups.ts";
import type { Plan } from "../../plan/types.ts";
import { duration, mm, plural } from "../figure-text.ts";
import { type Html, htmlOf, tag, voidTag } from "../html.ts";
import type { WriteOptions, Writer } from "../writer.ts";
import { blockTable, MANY_ROWS } from "./blocks.ts";
import { type SheetFigures, sheetFigures } from "./figures.ts";
import { cautions, findingNotes, noteLines } from "./notes.ts";
import { pictureCaption, pictureRoom, type Room, scaleFor, sewnSize, sheetPicture } from "./picture.ts";
import { setupList, timeList } from "./setup.ts";
import { PAGE, STYLE } from "./style.ts";

/** The whole page as HTML text. */
export function runSheet(plan: Plan, options: WriteOptions = {}): string {
  const figures = sheetFigures(plan);
  const name = plan.source.name.replace(/\.(svgz?|json)$/i, "");
  const picture = pictureRoom(plan);
  const kinds = kindsBeside(plan, figures, picture);
  const scale = scaleFor(picture, roomBeside(figures, noteLines(plan.findings, kinds), picture));
  const trueSize = scale > 1 && scaleFor(picture, ROOM_ON_SECOND_PAGE) === 1;
  const page = tag(
    "html",
    { lang: "en" },
    tag(
      "head",
      {},
      voidTag("meta", { charset: "utf-8" }),
      tag("title", {}, `Run sheet: ${name}`),
      voidTag("meta", { name: "viewport", content: "width=device-width, initial-scale=1" }),
      { html: `<style>\n${STYLE}\n</style>` },
    ),
    tag(
      "body",
      {},
      pageHead(plan, figures, name),
      tag(
        "main",
        {},
        tag(
          "div",
          { class: "work" },
          figure(plan, scale, options),
          tag("div", { class: "setup" }, setupList(plan), timeList(plan, figures)),
        ),
        blockTable(figures),
        cautions(),
        findingNotes(plan.findings, kinds),
      ),
      pageFoot(plan),
      trueSize ? tag("div", { class: "full" }, figure(plan, 1, options)) : "",
    ),
  );
  return `<!DOCTYPE html>\n${htmlOf(page)}\n`;
}

export const sheetWriter: Writer = {
  name: "sheet",
  ending: "html",
  describe: "the run sheet, a page to print for the one at the machine",
  write: runSheet,
};

const figure = (plan: Plan, scale: number, options: WriteOptions): Html =>
  tag("figure", {}, sheetPicture(plan, scale, options), tag("figcaption", {}, pictureCaption(scale)));

function pageHead(plan: Plan, figures: SheetFigures, name: string): Html {
  const facts = [
    sewnSize(plan),
    plural(figures.stitches, "stitch", "stitches"),
    `${plural(figures.blocks.length, "block")} of ${plural(figures.threads, "thread")}`,
    duration(figures.time.totalSeconds),
  ];
  return tag(
    "header",
    {},
    tag("div", {}, tag("h1", {}, tag("bdi", {}, name)), tag("p", {}, facts.join(" · "))),
    tag(
      "div",
      { class: "blank" },
      ["Date and machine", "Sewn by", "Remarks"].map((label) => tag("span", {}, label)),
    ),
  );
}

const pageFoot = ({ settings, source }: Plan): Html =>
  tag(
    "footer",
    {},
    `Thread by the lockstitch model (stitch type 301 of ISO 4915): for each stitch its length and ${mm(settings.fabricThicknessMm)} mm of fabric and backing, as much again from the bobbin; ends at trims come on top. Time is an estimate. Made by Tuckline from a drawing with the digest ${source.sha256.slice(0, 12)}.`,
  );

/** Height of what stands on the first page beside the picture, in millimetres, as the style sets it. */
const HEIGHTS = {
  header: 21,
  caption: 8.2,
  tableHead: 8.4,
  row: 4.9,
  manyRow: 4.2,
  tableFoot: 4.7,
  cautions: 29.5,
  noFindings: 9,
  findings: 6,
  findingLine: 3.8,
  footer: 9.5,
  /** Of the terms, where the picture is so wide that they stand below it. */
  setup: 48,
} as const;

const SETUP_WIDTH_MM = 65;

/** Fewer kinds of findings than this are not told only to make room. */
const LEAST_KINDS = 1;

/** How many kinds of findings are told: fewer than there might be where that leaves the picture its true scale. */
function kindsBeside(plan: Plan, figures: SheetFigures, picture: Room): number {
  const most = Math.min(figures.blocks.length > MANY_ROWS ? 3 : 5, groupFindings(plan.findings).length);
  for (let kinds = most; kinds >= Math.min(LEAST_KINDS, most); kinds--)
    if (scaleFor(picture, roomBeside(figures, noteLines(plan.findings, kinds), picture)) === 1) return kinds;
  return most;
}

/** What is left for the picture on the first page, beside so many lines about findings. */
function roomBeside({ blocks }: SheetFigures, lines: number, picture: Room): Room {
  const row = blocks.length > MANY_ROWS ? HEIGHTS.manyRow : HEIGHTS.row;
  const said =
    HEIGHTS.header +
    HEIGHTS.caption +
    HEIGHTS.tableHead +
    row * blocks.length +
    HEIGHTS.tableFoot +
    HEIGHTS.cautions +
    Math.max(HEIGHTS.noFindings, HEIGHTS.findings + lines * HEIGHTS.findingLine) +
    HEIGHTS.footer;
  const left = PAGE.heightMm - said;
  const isWide = picture.widthMm > PAGE.widthMm - SETUP_WIDTH_MM;
  if (!isWide) return { widthMm: PAGE.widthMm - SETUP_WIDTH_MM, heightMm: left };
  const below = { widthMm: PAGE.widthMm, heightMm: left - HEIGHTS.setup };
  return scaleFor(picture, below) === 1 ? below : { widthMm: PAGE.widthMm - SETUP_WIDTH_MM, heightMm: left };
}

const ROOM_ON_SECOND_PAGE: Room = {
  widthMm: PAGE.widthMm,
  heightMm: PAGE.heightMm - HEIGHTS.caption - HEIGHTS.footer,
};

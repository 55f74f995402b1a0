/**
 * The report as one page to look through: a row a drawing with its thumbnail, its figures and what was found. It
 * works from the disk, without a server; its pictures are the small files beside it, named relative to it.
 */
import { SEVERITIES } from "../../core/finding-groups.ts";
import type { Severity } from "../../core/findings.ts";
import { type Content, type Html, htmlOf, raw, tag, voidTag } from "../../core/output/html.ts";
import { count, duration, metres, mm, plural } from "../table.ts";
import {
  countOf,
  type FindingCount,
  missingShards,
  type PlannedEntry,
  type Report,
  type ReportEntry,
  totalsOf,
} from "./report.ts";
import { SCRIPT, STYLE } from "./report-style.ts";

export function reportPage(report: Report): string {
  const page = tag(
    "html",
    { lang: "en" },
    tag(
      "head",
      {},
      voidTag("meta", { charset: "utf-8" }),
      tag("title", {}, `Batch: ${plural(report.drawings.length, "drawing")}`),
      voidTag("meta", { name: "viewport", content: "width=device-width, initial-scale=1" }),
      raw(`<style>\n${STYLE}\n</style>`),
    ),
    tag("body", {}, pageHead(report), tag("main", {}, table(report)), raw(`<script>\n${SCRIPT}\n</script>`)),
  );
  return `<!DOCTYPE html>\n${htmlOf(page)}\n`;
}

function pageHead(report: Report): Html {
  const { planned, failed, stitches, trims, threadMm, seconds } = totalsOf(report);
  const facts = [
    `${count(planned)} planned`,
    ...(failed > 0 ? [`${count(failed)} failed`] : []),
    plural(stitches, "stitch", "stitches"),
    plural(trims, "trim"),
    metres(threadMm),
    `${duration(seconds)} to sew, estimated`,
  ];
  const missing = missingShards(report);
  return tag(
    "header",
    {},
    tag(
      "div",
      {},
      tag("h1", {}, plural(report.drawings.length, "drawing")),
      tag("p", {}, facts.join(" · ")),
      missing.length > 0 ? tag("p", { class: "missing" }, missingText(report)) : "",
    ),
    tag("label", {}, "Find", voidTag("input", { type: "search", placeholder: "name, finding" })),
  );
}

/** Which shards a report lacks, in words. */
export const missingText = (report: Report): string => {
  const missing = missingShards(report);
  const numbers = missing.length > 12 ? `${missing.slice(0, 12).join(", ")} …` : missing.join(", ");
  return `Not all of the batch: of ${report.shards?.of} shards ${plural(missing.length, "is", "are")} not in here (${numbers}).`;
};

interface ColumnOfPage {
  readonly title: string;
  /** What it is sorted by; the larger, the further down. */
  sortBy(entry: PlannedEntry): number;
  show(entry: PlannedEntry): Content;
}

const FIGURES: readonly ColumnOfPage[] = [
  {
    title: "size",
    sortBy: ({ widthMm, heightMm }) => Math.round(widthMm * heightMm),
    show: ({ widthMm, heightMm }) => `${mm(widthMm)} × ${mm(heightMm)} mm`,
  },
  figure("pieces", ({ metrics }) => metrics.pieces),
  {
    title: "threads",
    sortBy: ({ colours }) => colours.length,
    show: ({ colours }) => [count(colours.length), tag("span", { class: "swatches" }, colours.map(swatch))],
  },
  figure("blocks", ({ metrics }) => metrics.blocks),
  {
    title: "strands",
    sortBy: ({ metrics }) => metrics.strands,
    show: ({ metrics: { strands, strandsLowerBound } }) =>
      strands > strandsLowerBound ? `${count(strands)} (≥ ${count(strandsLowerBound)})` : count(strands),
  },
  figure("trims", ({ metrics }) => metrics.trims),
  figure("stitches", ({ metrics }) => metrics.stitches),
  {
    title: "thread",
    sortBy: ({ metrics }) => metrics.threadMm,
    show: ({ metrics }) => metres(metrics.threadMm),
  },
  {
    title: "time",
    sortBy: ({ metrics }) => metrics.seconds,
    show: ({ metrics }) => duration(metrics.seconds),
  },
];

const swatch = (colour: string): Html =>
  tag(
    "svg",
    { width: 12, height: 12 },
    tag("rect", { width: 12, height: 12, fill: colour, stroke: "#555" }, tag("title", {}, colour)),
  );

function figure(title: string, value: (entry: PlannedEntry) => number): ColumnOfPage {
  return { title, sortBy: value, show: (entry) => count(value(entry)) };
}

function table({ drawings }: Report): Html {
  const heads = [
    tag("td", {}),
    columnHead("drawing", { "aria-sort": "ascending" }),
    ...FIGURES.map(({ title }) => columnHead(title, { class: "number" })),
    columnHead("findings", {}),
  ];
  return tag(
    "table",
    {},
    tag("thead", {}, tag("tr", {}, heads)),
    tag(
      "tbody",
      {},
      drawings.map((entry, place) => [raw("\n"), row(entry, place)]),
    ),
  );
}

const columnHead = (title: string, attributes: Readonly<Record<string, string>>): Html =>
  tag("th", { scope: "col", ...attributes }, tag("button", { type: "button" }, title));

function row(entry: ReportEntry, place: number): Html {
  const name = tag("bdi", {}, entry.name);
  if (entry.status === "failed")
    return tag(
      "tr",
      {},
      tag("td", { class: "thumb" }),
      tag("th", { scope: "row", "data-sort": place }, name),
      FIGURES.map(() => tag("td", { "data-sort": "" })),
      tag(
        "td",
        { class: "notes", "data-sort": Number.MAX_SAFE_INTEGER },
        tag("span", { class: "failed" }, "failed: "),
        entry.message,
      ),
    );
  return tag(
    "tr",
    {},
    tag("td", { class: "thumb" }, thumbnail(entry)),
    tag("th", { scope: "row", "data-sort": place }, name, links(entry)),
    FIGURES.map(({ sortBy, show }) =>
      tag("td", { class: "number", "data-sort": sortBy(entry) }, show(entry)),
    ),
    tag("td", { class: "notes", "data-sort": gravity(entry) }, findings(entry)),
  );
}

const thumbnail = (entry: PlannedEntry): Html =>
  voidTag("img", { src: linkTo(entry.thumbnail), alt: "", loading: "lazy" });

const links = ({ outputs }: PlannedEntry): Html =>
  tag(
    "span",
    { class: "links" },
    Object.entries(outputs).map(([format, path]) => [tag("a", { href: linkTo(path) }, format), " "]),
  );

/** A path as a relative address: each part encoded (RFC 3986), so that `#` or `?` in a name is a part of it. */
const linkTo = (path: string): string => path.split("/").map(encodeURIComponent).join("/");

/** Errors before warnings before notes, then by how many. */
const gravity = (entry: PlannedEntry): number =>
  SEVERITIES.reduce((sum, severity, k) => sum + Math.min(999, countOf(entry, severity)) * 1000 ** k, 0);

function findings(entry: PlannedEntry): Content {
  if (entry.findings.length === 0) return "";
  return tag("details", {}, tag("summary", {}, tally(entry)), tag("ul", {}, entry.findings.map(finding)));
}

const finding = ({ severity, code, count: number, message, remedy }: FindingCount): Html =>
  tag(
    "li",
    {},
    `${severity}, ${code}: ${message} ${remedy}${number > 1 ? ` (and ${count(number - 1)} more like it)` : ""}`,
  );

const WORDS: Readonly<Record<Severity, string>> = { error: "error", warning: "warning", info: "note" };

const tally = (entry: PlannedEntry): string =>
  [...SEVERITIES]
    .reverse()
    .map((severity) => [countOf(entry, severity), WORDS[severity]] as const)
    .filter(([number]) => number > 0)
    .map(([number, word]) => plural(number, word))
    .join(", ");

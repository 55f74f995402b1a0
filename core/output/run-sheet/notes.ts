/** What the run sheet says at its foot: what was found in the drawing, and what to be careful of. */

import { groupFindings } from "../../finding-groups.ts";
import type { Finding } from "../../findings.ts";
import { count } from "../figure-text.ts";
import { type Html, htmlOf, tag } from "../html.ts";

const SEVERITY_WORDS = { info: "Note", warning: "Warning", error: "Error" } as const;

/** Common practice at the machine, no source. */
const CAUTIONS = [
  "Sew a sample first: same fabric, same backing, same threads.",
  "Keep hands, hair and sleeves clear of the moving needle. Stop the machine before reaching into the hoop.",
  "Before the first stitch, move round the design's edge and see that the hoop clears foot and arm.",
  "Wear eye protection for dense work: a needle that hits too much thread may break.",
  "For needles, speed and hoops the machine's manual has the last word.",
];

export const cautions = (): Html =>
  tag(
    "section",
    { class: "careful" },
    tag("h2", {}, "Careful"),
    tag(
      "ul",
      {},
      CAUTIONS.map((caution) => tag("li", {}, caution)),
    ),
  );

/** Of each kind of finding the first, the gravest kind first, at most `most` kinds. */
export function findingNotes(findings: readonly Finding[], most: number): Html {
  const groups = groupFindings(findings);
  const shown = groups.slice(0, most);
  const hidden = findings.length - shown.reduce((sum, group) => sum + group.length, 0);
  const title = tag("h2", {}, "Found in the drawing");
  if (groups.length === 0) return tag("section", {}, title, tag("p", {}, "Nothing to look at."));
  return tag(
    "section",
    {},
    title,
    tag("ul", {}, shown.map(findingItem)),
    hidden > 0 ? tag("p", {}, `and ${count(hidden)} more: see the check of the drawing`) : "",
  );
}

/** Letters that stand on a line of the notes; wide letters are reckoned with. */
const LINE_LETTERS = 112;

/** How many lines the notes on findings take, about, when `most` kinds are told. */
export function noteLines(findings: readonly Finding[], most: number): number {
  const groups = groupFindings(findings);
  const lines = groups.slice(0, most).map((group) => Math.ceil(itemText(group).length / LINE_LETTERS));
  return lines.reduce((sum, each) => sum + each, groups.length > most ? 1 : 0);
}

/** An item's text, without its markup. */
const itemText = (group: readonly Finding[]): string => htmlOf(findingItem(group)).replace(/<[^>]*>/g, "");

function findingItem(group: readonly Finding[]): Html {
  const [{ severity, piece, message, remedy }] = group;
  const others = group.length > 1 ? ` and ${count(group.length - 1)} more like it` : "";
  return tag(
    "li",
    {},
    tag("strong", {}, SEVERITY_WORDS[severity]),
    piece === undefined ? "" : [" ", tag("bdi", {}, clipped(piece, 40))],
    `${others}: `,
    tag("bdi", {}, clipped(message, 220)),
    " ",
    tag("bdi", {}, clipped(remedy, 160)),
  );
}

/** A drawing's names may be as long as its author liked; the sheet has one page. */
export const clipped = (text: string, most: number): string => {
  const characters = [...text];
  return characters.length > most ? `${characters.slice(0, most - 1).join("")}…` : text;
};

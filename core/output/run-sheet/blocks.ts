/** The run sheet's table: a row for each block in sewing order, the sums below. */
import { count, duration, metres } from "../figure-text.ts";
import { type Html, raw, tag } from "../html.ts";
import type { BlockFigures, SheetFigures } from "./figures.ts";
import { clipped } from "./notes.ts";

/** From so many rows on they are set smaller. */
export const MANY_ROWS = 18;

export function blockTable({ blocks, stitches, trims, thread, time }: SheetFigures): Html {
  const named = blocks.some((block) => block.thread !== undefined);
  const heads: readonly (readonly [title: string, kind?: "text"])[] = [
    ["block"],
    ["thread"],
    ["", "text"],
    ["colour", "text"],
    ...(named
      ? ([
          ["name", "text"],
          ["code", "text"],
        ] as const)
      : []),
    ["pieces"],
    ["stitches"],
    ["trims"],
    ["upper thread"],
    ["bobbin"],
    ["time"],
  ];
  const sums = [count(stitches), count(trims), metres(thread.needleMm), metres(thread.bobbinMm)];
  return tag(
    "table",
    { class: blocks.length > MANY_ROWS ? "many" : undefined },
    tag(
      "thead",
      {},
      tag(
        "tr",
        {},
        heads.map(([title, kind]) =>
          title === "" ? tag("td", {}) : tag("th", { scope: "col", class: kind }, title),
        ),
      ),
    ),
    tag(
      "tbody",
      {},
      blocks.map((block) => blockRow(block, named)),
    ),
    tag(
      "tfoot",
      {},
      tag(
        "tr",
        {},
        tag("th", { scope: "row", class: "text", colspan: named ? 7 : 5 }, "in all"),
        [...sums, duration(time.totalSeconds)].map((text) => tag("td", {}, text)),
      ),
    ),
  );
}

const blockRow = (block: BlockFigures, named: boolean): Html => {
  const cells: readonly (readonly [content: string | Html, kind?: "text" | "name"])[] = [
    [String(block.number)],
    [String(block.threadNumber)],
    [swatch(block), "text"],
    [block.colour, "text"],
    ...(named
      ? ([
          [clipped(block.thread?.name ?? "", 26), "name"],
          [clipped(block.thread?.code ?? "", 12), "text"],
        ] as const)
      : []),
    [count(block.pieces)],
    [count(block.stitches)],
    [count(block.trims)],
    [metres(block.needleMm)],
    [metres(block.bobbinMm)],
    [duration(block.seconds)],
  ];
  return tag(
    "tr",
    {},
    cells.map(([content, kind]) => tag("td", { class: kind }, content)),
  );
};

/** Drawn rather than set as a background, which browsers leave out when they print. */
const swatch = ({ colour }: BlockFigures): Html =>
  raw(
    `<svg width="11mm" height="3.6mm" viewBox="0 0 110 36" aria-hidden="true"><rect x="1.5" y="1.5" width="107" height="33" fill="${colour}" stroke="#111" stroke-width="3"/></svg>`,
  );

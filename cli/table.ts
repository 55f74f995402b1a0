/** Plain text tables for a terminal or a file: columns by spaces, no colour, no frame. */
export { count, duration, metres, mm, plural } from "../core/output/figure-text.ts";

export interface Column {
  readonly title: string;
  readonly align?: "left" | "right";
}

const GAP = "  ";

/** Lines of a table: the titles, then a row each. No trailing spaces; where no column has a title, no title row. */
export function tableLines(columns: readonly Column[], rows: readonly (readonly string[])[]): string[] {
  const titled = columns.some(({ title }) => title !== "");
  const all = titled ? [columns.map(({ title }) => title), ...rows] : rows;
  const widths = columns.map((_, i) => all.reduce((widest, row) => Math.max(widest, widthOf(row[i])), 0));
  return all.map((row) =>
    columns
      .map(({ align }, i) => {
        const space = " ".repeat(widths[i] - widthOf(row[i]));
        return align === "right" ? space + row[i] : row[i] + space;
      })
      .join(GAP)
      .trimEnd(),
  );
}

/** Characters, not UTF-16 halves: ids may hold any of them. */
const widthOf = (text: string): number => [...text].length;

/**
 * Characters of a drawing's ids and messages that a terminal would obey are shown as a dot: control characters, and
 * those that turn the direction of what follows, by which a name could pass for another (Unicode UAX #9, 2.1 to 2.5).
 */
export const printable = (text: string): string =>
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what this is about
  text.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]+/g, "·");

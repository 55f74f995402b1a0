/** Plain text tables for a terminal or a file: columns by spaces, no colour, no frame. */

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

/** Whole numbers with thousands set apart: 12,345. Independent of the machine's locale. */
export const count = (value: number): string =>
  Math.round(value)
    .toString()
    .replace(/\B(?=(\d{3})+$)/g, ",");

/** Millimetres to a tenth, without a needless `.0`: 12.3, 80. */
export const mm = (value: number): string => String(Math.round(value * 10) / 10 + 0);

/** Thread is bought by the metre: 45.2 m. */
export const metres = (valueMm: number): string => `${(valueMm / 1000).toFixed(1)} m`;

/** 48 s, 12 min 5 s, 1 h 20 min: as exact as an estimate deserves. */
export function duration(seconds: number): string {
  const whole = Math.round(seconds);
  if (whole < 60) return `${whole} s`;
  if (whole < 3600) return `${Math.floor(whole / 60)} min ${whole % 60} s`;
  const minutes = Math.round(whole / 60);
  return `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
}

/** `1 piece`, `2 pieces`. */
export const plural = (value: number, one: string, many = `${one}s`): string =>
  `${count(value)} ${value === 1 ? one : many}`;

/** Control characters of a drawing's ids and messages, which a terminal would obey, are shown as a dot. */
export const printable = (text: string): string =>
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what this is about
  text.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029]+/g, "·");

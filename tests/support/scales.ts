/** Overlapping rows of scales, in one colour or in two that alternate: how planning time grows is measured on them. */

/** Scales in a row; a larger design has more rows, not wider ones. */
const PER_ROW = 40;
const ACROSS_MM = 7;
const ROW_MM = 5;

/**
 * `count` scales as on a fish: rows from the tail's end upwards, each row half a scale aside and lapping over the
 * one before it, and each scale lapping over its neighbour. Rows run to and fro, so that the next scale is always
 * near. With two colours, the rows alternate.
 */
export function rowsOfScales(count: number, colours: 1 | 2): string {
  const rows = Math.ceil(count / PER_ROW);
  const height = rows * ROW_MM + 10;
  const scales = Array.from({ length: count }, (_, k) => {
    const row = Math.floor(k / PER_ROW);
    const place = row % 2 === 0 ? k % PER_ROW : PER_ROW - 1 - (k % PER_ROW);
    const x = 6 + place * ACROSS_MM + (row % 2 === 0 ? 0 : ACROSS_MM / 2);
    const y = height - 5 - row * ROW_MM;
    const fill = colours === 2 && row % 2 === 1 ? "#c9d3da" : "#5f7f95";
    return `<path id="scale-${k + 1}" fill="${fill}" transform="translate(${x} ${y})" d="M-4-3.5C-4 1-2.6 3.6 0 4.5 2.6 3.6 4 1 4-3.5 2.2-4.2-2.2-4.2-4-3.5Z"/>`;
  });
  const width = PER_ROW * ACROSS_MM + 12;
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}">${scales.join("")}</svg>`;
}

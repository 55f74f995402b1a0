/** Fan-shaped designs of overlapping feathers, one colour, of any size: how planning time grows is measured on them. */

/**
 * A fan of `count` feathers, drawn one over the other, each overlapping the next. The feathers keep their size,
 * so that the fan grows as it opens: rows of at most 40 feathers, one row above the other.
 */
export function fanOfFeathers(count: number): string {
  const perRow = 40;
  const rows = Math.ceil(count / perRow);
  const feathers: string[] = [];
  for (let k = 0; k < count; k++) {
    const row = Math.floor(k / perRow);
    const place = row % 2 === 0 ? k % perRow : perRow - 1 - (k % perRow);
    const angleDeg = -60 + (120 * place) / (perRow - 1);
    feathers.push(
      `<path id="feather-${k + 1}" transform="translate(60 ${40 + row * 9}) rotate(${angleDeg.toFixed(3)}) translate(0 -34)" d="M0 12C-2.6 8-2.4 2 0 0 2.4 2 2.6 8 0 12Z"/>`,
    );
  }
  const height = 60 + rows * 9;
  return `<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="${height}mm" viewBox="0 0 120 ${height}"><g fill="#5b7a99">${feathers.join("")}</g></svg>`;
}

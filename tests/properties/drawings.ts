/**
 * Drawings that nobody drew, for fast-check: trees of groups with transforms, clips and `use`, shapes and paths of
 * all commands, strokes with dashes, what an artist may set on an element, settings. What fails is shrunk to the
 * smallest drawing that still does.
 */
import fc from "fast-check";
import { DEFAULT_SETTINGS, type Settings } from "../../core/settings.ts";

const NAVY = "#1b3a5c";
const COLOURS = [NAVY, "#6b8e4e", "#9cc3d5"];

const place = fc.integer({ min: 0, max: 60 });
const size = fc.integer({ min: 1, max: 30 });
const step = fc.integer({ min: -25, max: 25 });
const flag = fc.constantFrom("0", "1");

/** One command of path data (SVG 2, 9.3), in absolute or relative units, with numbers on the page. */
const command = fc.oneof(
  fc.tuple(fc.constantFrom("L", "T", "M"), place, place).map(([c, x, y]) => `${c}${x} ${y}`),
  fc.tuple(fc.constantFrom("l", "t", "m"), step, step).map(([c, x, y]) => `${c}${x} ${y}`),
  fc.tuple(fc.constantFrom("H", "V"), place).map(([c, at]) => `${c}${at}`),
  fc.tuple(fc.constantFrom("h", "v"), step).map(([c, by]) => `${c}${by}`),
  fc.tuple(place, place, place, place, place, place).map((at) => `C${at.join(" ")}`),
  fc.tuple(step, step, step, step, step, step).map((by) => `c${by.join(" ")}`),
  fc.tuple(fc.constantFrom("S", "Q"), place, place, place, place).map(([c, ...at]) => c + at.join(" ")),
  fc.tuple(fc.constantFrom("s", "q"), step, step, step, step).map(([c, ...by]) => c + by.join(" ")),
  fc
    .tuple(size, size, step, flag, flag, place, place)
    .map(([rx, ry, turn, large, sweep, x, y]) => `A${rx} ${ry} ${turn} ${large} ${sweep} ${x} ${y}`),
  fc.constant("z"),
);

export const pathData = fc
  .tuple(place, place, fc.array(command, { minLength: 2, maxLength: 9 }))
  .map(([x, y, commands]) => `M${x} ${y}${commands.join("")}`);

const shape = fc.oneof(
  pathData.map((data) => `path d="${data}"`),
  fc
    .tuple(place, place, size, size)
    .map(([x, y, w, h]) => `rect x="${x}" y="${y}" width="${w}" height="${h}"`),
  fc
    .tuple(place, place, size, size)
    .map(([x, y, rx, ry]) => `ellipse cx="${x}" cy="${y}" rx="${rx}" ry="${ry}"`),
  fc
    .array(fc.tuple(place, place), { minLength: 3, maxLength: 6 })
    .map((at) => `polygon points="${at.join(" ")}"`),
  fc.tuple(place, place, place, place).map(([a, b, c, d]) => `line x1="${a}" y1="${b}" x2="${c}" y2="${d}"`),
);

const fill = fc.constantFrom(...COLOURS).map((colour) => `fill="${colour}"`);
const stroke = fc
  .tuple(
    fc.constantFrom(...COLOURS),
    fc.constantFrom("0.4", "1", "2.5", "6"),
    fc.constantFrom("", "", 'stroke-dasharray="5 3"', 'stroke-dasharray="9 2 1"'),
    fc.constantFrom("butt", "round", "square"),
  )
  .map(
    ([colour, width, dashes, cap]) =>
      `stroke="${colour}" stroke-width="${width}" stroke-linecap="${cap}" ${dashes}`,
  );
const paint = fc.oneof(
  fill,
  fill,
  fill,
  fc.tuple(fc.constant('fill="none"'), stroke).map((p) => p.join(" ")),
  fc.tuple(fill, stroke).map((p) => p.join(" ")),
);

/** What the artist may set on an element, its pins among them. No strands: those may hop as far as the artist likes. */
const wish = fc.oneof(
  { weight: 6, arbitrary: fc.constant("") },
  { weight: 1, arbitrary: fc.tuple(place, place).map(([x, y]) => `data-tuck-entry="${x} ${y}"`) },
  { weight: 1, arbitrary: fc.tuple(place, place).map(([x, y]) => `data-tuck-exit="${x} ${y}"`) },
  {
    weight: 1,
    arbitrary: fc.constantFrom("fill", "satin", "run", "skip").map((t) => `data-tuck-technique="${t}"`),
  },
  { weight: 1, arbitrary: fc.integer({ min: -90, max: 90 }).map((angle) => `data-tuck-angle="${angle}"`) },
);

const leaf = fc.tuple(shape, paint, wish).map((parts) => `<${parts.join(" ")}/>`);

const transform = fc.oneof(
  fc.tuple(step, step).map(([x, y]) => `translate(${x} ${y})`),
  fc.integer({ min: -180, max: 180 }).map((angle) => `rotate(${angle} 30 30)`),
  fc.constantFrom(
    "scale(-1 1) translate(-60)",
    "scale(.5)",
    "scale(1.6 .7)",
    "skewX(25)",
    "matrix(.8 .3 -.2 1 4 -3)",
  ),
);

/** Groups in groups: moved, clipped, drawn again elsewhere. Names of clips and groups are given at the end. */
const { node } = fc.letrec<{ node: string; group: string }>((tie) => ({
  node: fc.oneof(
    { maxDepth: 3, withCrossShrink: true },
    { weight: 4, arbitrary: leaf },
    { weight: 1, arbitrary: tie("group") },
  ),
  group: fc
    .tuple(
      fc.constantFrom("moved", "clipped", "again"),
      transform,
      shape,
      fc.array(tie("node"), { minLength: 1, maxLength: 3 }),
    )
    .map(([kind, how, by, inside]) => {
      const content = inside.join("");
      if (kind === "moved") return `<g transform="${how}">${content}</g>`;
      if (kind === "clipped")
        return `<clipPath id="#"><${by}/></clipPath><g clip-path="url(##)">${content}</g>`;
      return `<g id="#">${content}</g><use href="##" transform="${how}"/>`;
    }),
}));

const SIDE = 60;

/** A whole drawing, 60 mm wide. */
export const drawing = fc
  .array(node, { minLength: 2, maxLength: 6 })
  .map((nodes) => drawingOf(named(nodes.join(""))));

export const drawingOf = (content: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="${SIDE}mm" height="${SIDE}mm" viewBox="0 0 ${SIDE} ${SIDE}">${content}</svg>`;

/** Each `id="#"` gets a name of its own, and so does the reference that follows it. */
function named(content: string): string {
  let count = 0;
  const open: string[] = [];
  return content.replace(/id="#"|"url\(##\)"|"##"/g, (mark) => {
    if (mark === 'id="#"') {
      open.push(`part-${++count}`);
      return `id="${open.at(-1)}"`;
    }
    const name = open.pop();
    return mark === '"##"' ? `"#${name}"` : `"url(#${name})"`;
  });
}

/** The usual settings with a few others, each within its range. */
export const settings: fc.Arbitrary<Settings> = fc
  .record(
    {
      order: fc.constantFrom("paint" as const, "regroup" as const),
      technique: fc.constantFrom("auto" as const, "as-drawn" as const),
      jumpThresholdMm: fc.constantFrom(0.5, 1, 3, 8),
      tuckMarginMm: fc.constantFrom(0, 0.4, 2),
      fillAngleDeg: fc.constantFrom(0, 37, 90),
      fillSpacingMm: fc.constantFrom(0.3, 0.6),
      pullMm: fc.constantFrom(0, 0.5),
      underlay: fc.constantFrom("auto" as const, "none" as const),
      minStitchMm: fc.constantFrom(0.2, 1),
      maxMoveMm: fc.constantFrom(4, 12.7),
    },
    { requiredKeys: [] },
  )
  .map((chosen) => ({ ...DEFAULT_SETTINGS, ...chosen }));

/** Overlapping blades and leaves in a few threads: small designs on which orders can be told apart. */
export const leaves = fc
  .array(
    fc.tuple(
      fc.integer({ min: 5, max: 40 }),
      fc.integer({ min: 5, max: 40 }),
      fc.integer({ min: 4, max: 16 }),
      fc.integer({ min: 4, max: 16 }),
      fc.constantFrom(...COLOURS),
    ),
    { minLength: 3, maxLength: 9 },
  )
  .map((all) =>
    all.map(([x, y, w, h, colour]) => `<path d="M${x} ${y}h${w}l2 ${h}h-${w}z" fill="${colour}"/>`).join(""),
  );

/**
 * A small plan made by hand: a heron's two feathers of one thread, tucked together, a third one across a gap,
 * and a red pennant after a colour change. Coordinates are millimetres, chosen to be read, not sewn.
 */
import type { Finding } from "../../core/findings.ts";
import type { Matrix, Point } from "../../core/geometry/types.ts";
import type { PlainMetrics, Plan, PlannedPiece, SewingStep, SewnRole } from "../../core/plan/types.ts";
import type { Connector } from "../../core/routing/types.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";

const SLATE = "#4a6274";
const RED = "#c8403a";

const METRICS: PlainMetrics = {
  pieces: 4,
  blocks: 2,
  strands: 3,
  trims: 2,
  hops: 0,
  stitches: 40,
  connectorMm: 4,
  tuckedMm: 4,
  exposedMm: 0,
  threadMm: 181.25,
  seconds: 44,
};

const piece = (
  id: string,
  colour: string,
  order: number,
  entry: Point,
  exit: Point,
  pinned: Partial<Pick<PlannedPiece, "entryPinned" | "exitPinned">> = {},
): PlannedPiece => ({
  id,
  element: id,
  paint: "fill",
  technique: "fill",
  colour,
  order,
  entry,
  exit,
  entryPinned: false,
  exitPinned: false,
  ...pinned,
});

const sewn = (
  role: SewnRole,
  block: number,
  strand: number,
  points: readonly Point[],
  owner: { readonly piece?: string; readonly connector?: string } = {},
): SewingStep => ({
  role,
  block,
  strand,
  points: Float64Array.from(points.flat()),
  ...owner,
});

/** Rows to and fro in a box, from its top left corner, an even number of rows `gap` apart. */
const rows = (x: number, y: number, width: number, count: number): Point[] =>
  Array.from({ length: count }, (_, i): Point[] => {
    const row = y + i * 0.4;
    return i % 2 === 0
      ? [
          [x, row],
          [x + width, row],
        ]
      : [
          [x + width, row],
          [x, row],
        ];
  }).flat();

const PIECES: readonly PlannedPiece[] = [
  piece("feather-1", SLATE, 1, [4, 4], [4, 11.6]),
  piece("feather-2", SLATE, 2, [8, 11.6], [8, 19.2], { entryPinned: true }),
  piece("feather-3", SLATE, 3, [22, 19.2], [22, 26.8]),
  piece("pennant", RED, 4, [22, 4], [22, 11.6]),
];

const CONNECTORS: readonly Connector[] = [
  {
    id: "feather-1:feather-2",
    from: "feather-1",
    to: "feather-2",
    kind: "tucked",
    points: [
      [4, 11.6],
      [6, 12.4],
      [8, 11.6],
    ],
    tuckedMm: 4.308,
    exposedMm: 0,
    marginMm: 0.8,
  },
  {
    id: "feather-2:feather-3",
    from: "feather-2",
    to: "feather-3",
    kind: "jump",
    points: [
      [8, 19.2],
      [22, 19.2],
    ],
    tuckedMm: 0,
    exposedMm: 14,
    marginMm: 0,
    reason: "No later piece bridges feather-2 and feather-3: 6 mm are bare.",
    remedy: "Move them 4 mm nearer.",
  },
];

const SEWING: readonly SewingStep[] = [
  sewn("tie-in", 0, 0, [
    [4, 4],
    [4.8, 4],
    [4, 4],
  ]),
  sewn(
    "underlay",
    0,
    0,
    [
      [4, 4],
      [8, 8],
      [4, 4],
    ],
    { piece: "feather-1" },
  ),
  sewn("cover", 0, 0, rows(4, 4, 8, 20), { piece: "feather-1" }),
  sewn("connector", 0, 0, CONNECTORS[0].points, {
    connector: CONNECTORS[0].id,
  }),
  sewn(
    "travel",
    0,
    0,
    [
      [8, 11.6],
      [12, 14],
      [8, 11.6],
    ],
    { piece: "feather-2" },
  ),
  sewn("cover", 0, 0, rows(8, 11.6, 8, 20), { piece: "feather-2" }),
  sewn("tie-off", 0, 0, [
    [8, 19.2],
    [8.8, 19.2],
    [8, 19.2],
  ]),
  { role: "trim" },
  { role: "jump", points: Float64Array.from([8, 19.2, 22, 19.2]) },
  sewn("cover", 0, 1, rows(22, 19.2, 8, 20), { piece: "feather-3" }),
  { role: "trim" },
  { role: "colour-change", colour: RED },
  sewn("cover", 1, 2, rows(22, 4, 8, 20), { piece: "pennant" }),
  { role: "trim" },
];

const FINDINGS: readonly Finding[] = [
  {
    code: "bare-gap",
    severity: "warning",
    piece: "feather-3",
    at: [15, 19.2],
    message: "The thread is cut between feather-2 & feather-3.",
    remedy: "Let them overlap, or let a later piece bridge <6 mm>.",
  },
  {
    code: "text-left-out",
    severity: "info",
    message: "Text is not sewn.",
    remedy: "Turn it into outlines.",
  },
];

export const tinyPlan = (changes: Partial<Plan> = {}): Plan => ({
  source: { name: "heron.svg", sha256: "0".repeat(64) },
  settings: DEFAULT_SETTINGS,
  size: { widthMm: 40, heightMm: 32 },
  userToMm: [1, 0, 0, 1, 0, 0],
  pieces: PIECES,
  connectors: CONNECTORS,
  sewing: SEWING,
  metrics: {
    ...METRICS,
    blocksLowerBound: 2,
    strandsLowerBound: 3,
    untucked: { ...METRICS, strands: 4, connectorMm: 0, tuckedMm: 0 },
  },
  findings: FINDINGS,
  ...changes,
});

/** The artwork of the plan, drawn in user units of `unitMm` millimetres each. */
export function tinyArtwork(unitMm = 1): string {
  const user = (mm: number) => mm / unitMm;
  const box = (id: string, colour: string, x: number, y: number) =>
    `<rect id="${id}" x="${user(x)}" y="${user(y)}" width="${user(8)}" height="${user(7.6)}" fill="${colour}"/>`;
  return `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="32mm" viewBox="0 0 ${user(40)} ${user(32)}">
  <!-- feathers first, the pennant last -->
  ${box("feather-1", SLATE, 4, 4)}
  ${box("feather-2", SLATE, 8, 11.6)}
  ${box("feather-3", SLATE, 22, 19.2)}
  ${box("pennant", RED, 22, 4)}
</svg>
`;
}

/** The map that belongs to `tinyArtwork(unitMm)`. */
export const scaledToMm = (unitMm: number): Matrix => [unitMm, 0, 0, unitMm, 0, 0];

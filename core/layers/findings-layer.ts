/** The layer of findings: at each place that has one, a ring on a leader, with a sign of its severity inside. */
import type { Finding, Severity } from "../findings.ts";
import type { Point, Polyline } from "../geometry/types.ts";
import { inkOnHalo } from "./ink.ts";
import { type Drawing, layer } from "./layer.ts";

const RING_RADIUS_MM = 0.8;
const LEADER_MM = 1.6;
const RING_SIDES = 20;

/** The first leader goes up to the right; further ones from the same place turn by this much each. */
const FIRST_TURN_RAD = -Math.PI / 4;
const NEXT_TURN_RAD = Math.PI / 3;

/** The sign inside the ring, in ring radii about its centre: a dot, a bar, a cross. */
const SIGNS: Readonly<Record<Severity, readonly Polyline[]>> = {
  info: [
    [
      [0, 0],
      [0.01, 0],
    ],
  ],
  warning: [
    [
      [0, -0.45],
      [0, 0.45],
    ],
  ],
  error: [
    [
      [-0.35, -0.35],
      [0.35, 0.35],
    ],
    [
      [-0.35, 0.35],
      [0.35, -0.35],
    ],
  ],
};

export function findingsLayer(findings: readonly Finding[], drawing: Drawing): string {
  const marksAt = new Map<string, number>();
  const marks = findings.flatMap((finding) => {
    if (finding.at === undefined) return [];
    const place = drawing.user.point(finding.at, " ");
    const earlier = marksAt.get(place) ?? 0;
    marksAt.set(place, earlier + 1);
    return [mark(finding, finding.at, earlier, drawing)];
  });
  return layer("findings", drawing, marks);
}

const mark = (
  { code, severity, piece, message, remedy }: Finding,
  at: Point,
  earlierHere: number,
  { svg, user }: Drawing,
): string =>
  svg.element(
    "g",
    {
      "data-tuck-code": code,
      "data-tuck-severity": severity,
      "data-tuck-piece": piece,
      "data-tuck-at": user.point(at, " "),
    },
    [
      svg.text("title", `${message} ${remedy}`),
      ...inkOnHalo(markLines(at, FIRST_TURN_RAD + earlierHere * NEXT_TURN_RAD, severity), user, svg),
    ],
  );

/** Leader, ring and sign; the leader begins at the place itself. */
function markLines(at: Point, turnRad: number, severity: Severity): Polyline[] {
  const towards = (from: Point, angle: number, by: number): Point => [
    from[0] + Math.cos(angle) * by,
    from[1] + Math.sin(angle) * by,
  ];
  const centre = towards(at, turnRad, LEADER_MM + RING_RADIUS_MM);
  const ring = Array.from({ length: RING_SIDES + 1 }, (_, i) =>
    towards(centre, (2 * Math.PI * i) / RING_SIDES, RING_RADIUS_MM),
  );
  const sign = SIGNS[severity].map((line) =>
    line.map(([x, y]): Point => [centre[0] + x * RING_RADIUS_MM, centre[1] + y * RING_RADIUS_MM]),
  );
  return [[at, towards(at, turnRad, LEADER_MM)], ring, ...sign];
}

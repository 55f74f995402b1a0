/**
 * The smallest circle, upright rectangle and shield that hold a set of points, as rings.
 *
 * - Circle: the points are taken one by one; one that lies outside the circle so far lies on the edge of the next
 *   (Welzl, "Smallest enclosing disks", 1991, without its shuffling: after the hull few points are left).
 * - Shield: a flat top, straight sides, and two arcs that meet in a point below. It is convex, so how large it must
 *   be round a given centre is a convex function of that centre, and two nested ternary searches find the least.
 */
import { boxOf, distance, lerp, norm } from "../geometry/point.ts";
import type { Point, Ring } from "../geometry/types.ts";

export interface Circle {
  readonly centre: Point;
  readonly radius: number;
}

/** Chords of a circle stray from it by at most this share of its radius. */
const CHORDS = 256;
const ROUNDING_MM = 1e-9;

/** The convex hull, by the monotone chain of Andrew (1979); the outer ring of a region of positive area. */
export function convexHull(points: readonly Point[]): Point[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (along: readonly Point[]): Point[] => {
    const chain: Point[] = [];
    for (const p of along) {
      while (chain.length > 1 && turn(chain[chain.length - 2], chain[chain.length - 1], p) <= 0) chain.pop();
      chain.push(p);
    }
    return chain.slice(0, -1);
  };
  return sorted.length < 3 ? sorted : [...half(sorted), ...half(sorted.reverse())];
}

const turn = (a: Point, b: Point, c: Point): number =>
  (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

/** The smallest circle that holds all points, of which there is at least one. */
export function smallestCircle(points: readonly Point[]): Circle {
  const hull = convexHull(points);
  let circle: Circle = { centre: hull[0], radius: 0 };
  for (const [i, a] of hull.entries()) {
    if (holds(circle, a)) continue;
    circle = { centre: a, radius: 0 };
    for (const [j, b] of hull.slice(0, i).entries()) {
      if (holds(circle, b)) continue;
      circle = { centre: lerp(a, b, 0.5), radius: distance(a, b) / 2 };
      for (const c of hull.slice(0, j)) if (!holds(circle, c)) circle = circleThrough(a, b, c) ?? circle;
    }
  }
  return circle;
}

const holds = ({ centre, radius }: Circle, p: Point): boolean => distance(centre, p) <= radius + ROUNDING_MM;

/** The circle through three points; `null` where they lie on one line. */
function circleThrough(a: Point, b: Point, c: Point): Circle | null {
  const [bx, by] = [b[0] - a[0], b[1] - a[1]];
  const [cx, cy] = [c[0] - a[0], c[1] - a[1]];
  const twice = 2 * (bx * cy - by * cx);
  if (Math.abs(twice) < ROUNDING_MM) return null;
  const x = (cy * (bx * bx + by * by) - by * (cx * cx + cy * cy)) / twice;
  const y = (bx * (cx * cx + cy * cy) - cx * (bx * bx + by * by)) / twice;
  return { centre: [a[0] + x, a[1] + y], radius: norm(x, y) };
}

/** The smallest circle as a ring, whose chords do not cut into it. */
export function circleRing(points: readonly Point[]): Ring {
  const { centre, radius } = smallestCircle(points);
  const outer = radius / Math.cos(Math.PI / CHORDS);
  return Array.from({ length: CHORDS }, (_, k): Point => {
    const angle = (2 * Math.PI * k) / CHORDS;
    return [centre[0] + outer * Math.cos(angle), centre[1] + outer * Math.sin(angle)];
  });
}

/** The upright rectangle round the points. */
export function rectangleRing(points: readonly Point[]): Ring {
  const { minX, minY, maxX, maxY } = boxOf(points);
  return [
    [minX, minY],
    [maxX, minY],
    [maxX, maxY],
    [minX, maxY],
  ];
}

/**
 * The shield of half width 1, round a middle at 0: its top is at -1, its straight sides end at `SHOULDER`, and each
 * arc has this radius and its centre at that height. So side and arc join without a corner.
 */
const SHOULDER = 0.3;
const ARC_RADIUS = 1.5;
const ARC_CHORDS = 40;
const SHIELD: Ring = shield();

function shield(): Ring {
  const sweep = Math.acos((ARC_RADIUS - 1) / ARC_RADIUS);
  const arc = Array.from({ length: ARC_CHORDS + 1 }, (_, k): Point => {
    const angle = (sweep * k) / ARC_CHORDS;
    return [1 - ARC_RADIUS + ARC_RADIUS * Math.cos(angle), SHOULDER + ARC_RADIUS * Math.sin(angle)];
  });
  const mirrored = arc
    .slice(0, -1)
    .reverse()
    .map(([x, y]): Point => [-x, y]);
  return [[-1, -1], [1, -1], ...arc, ...mirrored];
}

/** Each edge of the shield as the line that all of it lies on one side of: `normal · p <= reach`. */
const SHIELD_EDGES = SHIELD.map((a, k) => {
  const b = SHIELD[(k + 1) % SHIELD.length];
  const length = distance(a, b);
  const normal: Point = [(b[1] - a[1]) / length, (a[0] - b[0]) / length];
  return { normal, reach: normal[0] * a[0] + normal[1] * a[1] };
});

/** Enough to find a centre within a millionth of the box that it is looked for in. */
const SEARCH_STEPS = 36;

/** The smallest shield that holds all points, of which there is at least one. */
export function shieldRing(points: readonly Point[]): Ring {
  const supports = SHIELD_EDGES.map(({ normal: [nx, ny] }) =>
    points.reduce((most, [x, y]) => Math.max(most, nx * x + ny * y), Number.NEGATIVE_INFINITY),
  );
  const sizeAt = (x: number, y: number): number =>
    SHIELD_EDGES.reduce(
      (most, { normal, reach }, k) => Math.max(most, (supports[k] - normal[0] * x - normal[1] * y) / reach),
      0,
    );
  const box = boxOf(points);
  // However the points lie, the shield's middle is within its own height of them.
  const span = 2 * Math.max(box.maxX - box.minX, box.maxY - box.minY);
  const bestY = (x: number): number => least((y) => sizeAt(x, y), box.minY - span, box.maxY + span);
  const x = least((at) => sizeAt(at, bestY(at)), box.minX - span, box.maxX + span);
  const y = bestY(x);
  const size = sizeAt(x, y);
  return SHIELD.map(([sx, sy]): Point => [x + size * sx, y + size * sy]);
}

/** Where a convex function of one number is least, by cutting off a third of the span again and again. */
function least(f: (at: number) => number, from: number, to: number): number {
  let [low, high] = [from, to];
  for (let k = 0; k < 2 * SEARCH_STEPS; k++) {
    const third = (high - low) / 3;
    if (f(low + third) <= f(high - third)) high -= third;
    else low += third;
  }
  return (low + high) / 2;
}

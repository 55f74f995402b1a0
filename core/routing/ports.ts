/**
 * Ports are polylines along which a body can be left or entered. Here: points picked from them, steps along
 * them, and a path cut where it meets them.
 */
import { distance, lerp } from "../geometry/point.ts";
import {
  arcLengths,
  type Nearest,
  nearestOnPolyline,
  pointAlong,
  polylineLength,
} from "../geometry/polyline.ts";
import type { Point, Polyline } from "../geometry/types.ts";

/** At most about `count` points spread evenly over ports, by length; every port gives at least one. */
export function samplePorts(ports: readonly Polyline[], count: number): Point[] {
  const lengths = ports.map(polylineLength);
  const total = lengths.reduce((sum, length) => sum + length, 0);
  const step = Math.max(total / count, 1e-9);
  return ports.flatMap((port, k) =>
    sampleEvenly(port, Math.max(1, Math.round(lengths[k] / step)), lengths[k]),
  );
}

/** `count` points of a polyline at the middles of equal stretches. */
function sampleEvenly(line: Polyline, count: number, length: number): Point[] {
  if (line.length === 1 || length === 0) return [line[0]];
  const points: Point[] = [];
  let walked = 0;
  for (let i = 1; i < line.length && points.length < count; i++) {
    const segment = distance(line[i - 1], line[i]);
    while (points.length < count) {
      const at = ((points.length + 0.5) * length) / count;
      if (at > walked + segment) break;
      points.push(lerp(line[i - 1], line[i], segment === 0 ? 0 : (at - walked) / segment));
    }
    walked += segment;
  }
  return points;
}

/** Total length of ports. */
export const portLength = (ports: readonly Polyline[]): number =>
  ports.reduce((sum, port) => sum + polylineLength(port), 0);

/** The point on any of the ports that is nearest to `p`, or `null` where there are none. */
export const nearestOnPorts = (ports: readonly Polyline[], p: Point): Point | null =>
  homeOf(ports, p)?.near.point ?? null;

function homeOf(ports: readonly Polyline[], p: Point): { port: Polyline; near: Nearest } | null {
  let home: { port: Polyline; near: Nearest } | null = null;
  for (const port of ports) {
    const near = nearestOnPolyline(p, port);
    if (!home || near.distance < home.near.distance) home = { port, near };
  }
  return home;
}

/** `at` itself and the points a step before and after it on the port it lies on. */
export function around(ports: readonly Polyline[], at: Point, stepMm: number): Point[] {
  const home = homeOf(ports, at);
  if (!home || home.port.length < 2) return [at];
  const { port, near } = home;
  const lengths = arcLengths(port);
  const total = lengths[lengths.length - 1];
  const closed = distance(port[0], port[port.length - 1]) < 1e-9;
  const place = (s: number) => pointAlong(port, lengths, closed ? (s + total) % total : s);
  return [at, place(near.along - stepMm), place(near.along + stepMm)];
}

/** The `count` points nearest to `to`, nearest first. */
export const nearestFew = (points: readonly Point[], to: Point, count: number): Point[] =>
  [...points].sort((a, b) => distance(a, to) - distance(b, to)).slice(0, count);

/** At most `most` of the points, evenly picked. */
export const spread = (points: readonly Point[], most: number): Point[] =>
  points.length <= most
    ? [...points]
    : Array.from({ length: most }, (_, k) => points[Math.floor((k * points.length) / most)]);

/** Cuts a path where it first touches one of the ports. */
export function trimEnd(path: Polyline, ports: readonly Polyline[]): Point[] {
  for (let i = 1; i < path.length; i++) {
    const t = firstContact(path[i - 1], path[i], ports);
    if (t === null) continue;
    const [ax, ay] = path[i - 1];
    const at: Point = [ax + (path[i][0] - ax) * t, ay + (path[i][1] - ay) * t];
    return i === 1 && t === 0 ? [path[0], path[0]] : [...path.slice(0, i), at];
  }
  return [...path];
}

/** The least fraction of segment ab at which it touches any of the ports. */
function firstContact(a: Point, b: Point, ports: readonly Polyline[]): number | null {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  let first: number | null = null;
  for (const port of ports) {
    for (let j = 1; j < port.length; j++) {
      const ex = port[j][0] - port[j - 1][0];
      const ey = port[j][1] - port[j - 1][1];
      const denominator = dx * ey - dy * ex;
      if (denominator === 0) continue;
      const fx = port[j - 1][0] - a[0];
      const fy = port[j - 1][1] - a[1];
      const t = (fx * ey - fy * ex) / denominator;
      const u = (fx * dy - fy * dx) / denominator;
      if (t < 0 || t > 1 || u < 0 || u > 1) continue;
      if (first === null || t < first) first = t;
    }
  }
  return first;
}

/**
 * The needle of a fill: takes points one by one and keeps stitches from becoming shorter than is worth sewing.
 */
import { lerp, norm } from "../geometry/point.ts";
import type { Point } from "../geometry/types.ts";
import type { StitchPart } from "./types.ts";

export type FillRole = "travel" | "cover";

/** `firm` points shape what is seen (ends of rows); others may give way to one that is too near. */
interface Stitch {
  readonly at: Point;
  readonly role: FillRole;
  readonly firm: boolean;
}

export class Needle {
  private readonly stitches: Stitch[];

  constructor(
    start: Point,
    private readonly minMm: number,
    private readonly longestMm: number,
  ) {
    this.stitches = [{ at: start, role: "travel", firm: true }];
  }

  get at(): Point {
    return this.stitches[this.stitches.length - 1].at;
  }

  /** What was sewn last. */
  get role(): FillRole {
    return this.stitches[this.stitches.length - 1].role;
  }

  to(at: Point, role: FillRole, firm: boolean): void {
    const { stitches } = this;
    const last = stitches[stitches.length - 1];
    if (gap(last.at, at) >= this.minMm) {
      stitches.push({ at, role, firm });
      return;
    }
    const before = stitches[stitches.length - 2];
    if (!firm || last.firm || !before) return;
    const length = gap(before.at, at);
    if (length < this.minMm || length > this.longestMm) return;
    stitches[stitches.length - 1] = { at, role: last.role === "cover" ? "cover" : role, firm };
  }

  /** The last point, exactly: what lies too near before it gives way. */
  finish(at: Point): void {
    const { stitches } = this;
    let role: FillRole = "cover";
    while (stitches.length > 1) {
      const last = stitches[stitches.length - 1];
      const before = stitches[stitches.length - 2];
      const off = gap(last.at, at);
      if (off >= this.minMm) break;
      const room = gap(before.at, last.at);
      const short = off + this.minMm + 1e-9;
      // So far back towards the point before that a stitch can leave it for the end.
      const back = lerp(last.at, before.at, Math.min(1, short / room));
      const isTip = last.firm && off > 0 && gap(before.at, at) + this.minMm / 2 < room;
      if (isTip && gap(back, at) >= this.minMm) {
        // The end of a row beyond the very last point stays: one stitch goes back from it.
        stitches.push({ at: back, role: last.role, firm: false });
        break;
      }
      role = last.role;
      stitches.pop();
      // A row is not to slant from afar: it stays where it is up to there.
      if (off > 0 && room > short + this.minMm) {
        stitches.push({ ...last, at: back });
        break;
      }
    }
    stitches.push({ at, role, firm: true });
  }

  /** All stitches, gathered into parts of one role; `place` maps each point into the drawing. */
  parts(place: (p: Point) => Point): StitchPart[] {
    const parts: { role: FillRole; points: Point[] }[] = [];
    let at = place(this.stitches[0].at);
    for (const stitch of this.stitches.slice(1)) {
      const to = place(stitch.at);
      const part = parts[parts.length - 1];
      if (part && part.role === stitch.role) part.points.push(to);
      else parts.push({ role: stitch.role, points: [at, to] });
      at = to;
    }
    return parts;
  }
}

const gap = (a: Point, b: Point): number => norm(b[0] - a[0], b[1] - a[1]);

/**
 * The way from one piece of a sequence to another that crosses the least width of gaps, where all pieces between may
 * be thousands: moving inside a piece is free. Dijkstra (1959) over pieces, but what lies near a piece is looked for
 * only as far as the search has come: a tree of boxes is opened branch by branch, by how much a way to a branch must
 * cost at least (best first, as Hjaltason and Samet find neighbours, 1999).
 */
import TinyQueue from "tinyqueue";
import { EMPTY_BOX, joinBoxes, norm } from "../geometry/point.ts";
import type { Box } from "../geometry/types.ts";
import { type Body, gapBetween } from "./body.ts";
import type { Crossing } from "./least-gaps.ts";

/**
 * Where so many pieces were reached and the search goes on, the best way so far counts: one over so many pieces is
 * none that an artist would close.
 */
const MOST_REACHED = 64;

/** Boxes of bodies, halved again and again. */
interface Branch {
  readonly box: Box;
  /** The last of its bodies in the sequence. */
  readonly last: number;
  readonly branches: readonly Branch[];
}

export interface GapWay {
  readonly from: number;
  readonly to: number;
  /** Whether a piece may be crossed on the way. */
  readonly mayCross: (k: number) => boolean;
  /** Pieces that end before this place in the sequence are not looked at. */
  readonly after: number;
}

/** Finds ways among bodies, each a list of gaps with the numbers of the bodies that they lead to. */
export type GapWays = (way: GapWay, limitMm: number) => Crossing[] | null;

/** Made ready for a sequence's bodies; a way is `null` where it would not stay below the limit. */
export function gapWaysAmong(bodies: readonly Body[]): GapWays {
  const root = branchOf(
    bodies,
    bodies.map((_, k) => k),
  );
  return (way, limitMm) => new Search(bodies, way, limitMm).run(root);
}

function branchOf(bodies: readonly Body[], members: number[]): Branch {
  const box = members.reduce((all, k) => joinBoxes(all, bodies[k].box), EMPTY_BOX);
  const last = members.reduce((most, k) => Math.max(most, k), -1);
  if (members.length <= 1) return { box, last, branches: [] };
  const [low, high] = box.maxX - box.minX > box.maxY - box.minY ? X_EDGES : Y_EDGES;
  const middle = (k: number): number => bodies[k].box[low] + bodies[k].box[high];
  const sorted = members.sort((a, b) => middle(a) - middle(b) || a - b);
  const half = sorted.length >> 1;
  return {
    box,
    last,
    branches: [branchOf(bodies, sorted.slice(0, half)), branchOf(bodies, sorted.slice(half))],
  };
}

const X_EDGES = ["minX", "maxX"] as const;
const Y_EDGES = ["minY", "maxY"] as const;

/** A body that is reached, and how: of several ways that cost the same, from the body that was reached first. */
interface Reached {
  readonly node: number;
  readonly cost: number;
  readonly step: number;
}

/** What the search does next, cheapest first: look into a branch from a body, or go on from a body. */
interface Task {
  readonly cost: number;
  readonly from: Reached;
  readonly branch: Branch | null;
  readonly node: number;
}

/** Branches before bodies that cost the same, since what is in them may cost no more. */
const inTurn = (a: Task, b: Task): number =>
  a.cost - b.cost ||
  Number(a.branch === null) - Number(b.branch === null) ||
  a.node - b.node ||
  a.from.step - b.from.step;

class Search {
  readonly #bodies: readonly Body[];
  readonly #way: GapWay;
  readonly #limitMm: number;
  readonly #queue = new TinyQueue<Task>([], inTurn);
  readonly #settled = new Set<number>();
  readonly #came = new Map<number, { from: Reached; cost: number; crossing: Crossing }>();

  constructor(bodies: readonly Body[], way: GapWay, limitMm: number) {
    this.#bodies = bodies;
    this.#way = way;
    this.#limitMm = limitMm;
  }

  run(root: Branch): Crossing[] | null {
    const { from, to } = this.#way;
    this.#goOn({ node: from, cost: 0, step: 0 }, root);
    for (let next = this.#queue.pop(); next; next = this.#queue.pop()) {
      if (next.cost >= this.#worth(to)) break;
      if (next.branch !== null) this.#lookInto(next.branch, next.from);
      else if (!this.#settled.has(next.node)) {
        if (this.#settled.size === MOST_REACHED) break;
        this.#goOn({ node: next.node, cost: next.cost, step: this.#settled.size }, root);
      }
    }
    return this.#wayBack();
  }

  #goOn(reached: Reached, root: Branch): void {
    this.#settled.add(reached.node);
    this.#cross(reached, this.#way.to);
    this.#queue.push({ cost: reached.cost, from: reached, branch: root, node: -1 });
  }

  #lookInto({ branches, last }: Branch, from: Reached): void {
    if (branches.length === 0) {
      if (last >= 0 && !this.#settled.has(last) && this.#way.mayCross(last)) this.#cross(from, last);
      return;
    }
    const { box } = this.#bodies[from.node];
    for (const branch of branches) {
      if (branch.last < this.#way.after) continue;
      const cost = from.cost + boxGap(box, branch.box);
      if (cost < this.#worth(this.#way.to)) this.#queue.push({ cost, from, branch, node: -1 });
    }
  }

  /** What a way to a body must cost less than. */
  #worth(node: number): number {
    const known = this.#came.get(node)?.cost ?? Number.POSITIVE_INFINITY;
    const whole = this.#came.get(this.#way.to)?.cost ?? Number.POSITIVE_INFINITY;
    return Math.min(this.#limitMm, known, whole);
  }

  #cross(from: Reached, node: number): void {
    const known = this.#came.get(node);
    const worth = this.#worth(node);
    const gap = gapBetween(this.#bodies[from.node], this.#bodies[node], worth - from.cost);
    if (!gap) return;
    const cost = from.cost + gap.distance;
    const isEarlier = known !== undefined && cost === known.cost && from.step < known.from.step;
    if (cost >= worth && !isEarlier) return;
    this.#came.set(node, { from, cost, crossing: { node, gap } });
    if (node !== this.#way.to) this.#queue.push({ cost, from, branch: null, node });
  }

  #wayBack(): Crossing[] | null {
    const way: Crossing[] = [];
    for (let step = this.#came.get(this.#way.to); step; step = this.#came.get(step.from.node))
      way.unshift(step.crossing);
    return way.length > 0 ? way : null;
  }
}

/** Never more than the gap between what lies in the boxes, rounding included. */
function boxGap(a: Box, b: Box): number {
  const dx = Math.max(0, a.minX - b.maxX, b.minX - a.maxX);
  const dy = Math.max(0, a.minY - b.maxY, b.minY - a.maxY);
  return norm(dx, dy) * (1 - 1e-12);
}

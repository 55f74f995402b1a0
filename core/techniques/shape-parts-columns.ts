/**
 * Which columns a narrow shape falls into: a letter's strokes, the arms of a star.
 *
 * - An *arm* is a branch of the medial axis that is long enough for a column of its own; what is shorter belongs
 *   to the column that it grows from.
 * - A *junction* is where three arms or more meet; junctions whose circles overlap are one.
 * - At a junction the two arms that lead on most straightly are one column, which takes the junction's area. The
 *   others begin at its edge.
 */
import {
  type AxisNode,
  type Branch,
  branchesOf,
  branchLength,
  type MedialAxis,
  pruneBranches,
} from "../geometry/medial-axis.ts";
import { distance } from "../geometry/point.ts";
import type { Point } from "../geometry/types.ts";

/** An arm protrudes from its junction by this many of its mean widths at least. Common practice, no source. */
const ARM_SHARE = 1.2;

/** Two arms make one column where they turn by less than this. */
const THROUGH_RAD = (80 * Math.PI) / 180;

export interface ColumnLabels {
  /** The axis without what is no arm. */
  readonly axis: MedialAxis;
  /** For each of its nodes the column that it belongs to, from 0. */
  readonly labels: Int32Array;
  readonly count: number;
}

/** Shares a narrow shape's axis out among columns. */
export function columnLabels(whole: MedialAxis): ColumnLabels {
  const axis = pruneBranches(whole, isArm);
  const { nodes } = axis;
  const branches = branchesOf(nodes);
  const junctionOf = junctions(nodes, branches);
  const arms = branches.filter((branch) => !isWithin(branch, junctionOf));
  if (arms.length <= 1) return { axis, labels: new Int32Array(nodes.length), count: 1 };

  const chains = chainArms(nodes, arms, junctionOf);
  const labels = new Int32Array(nodes.length).fill(-1);
  arms.forEach((arm, k) => {
    for (const n of arm) if (junctionOf[n] < 0) labels[n] = chains.chainOf[k];
  });
  for (const branch of branches) for (const n of branch) if (labels[n] < 0) labels[n] = ownerAt(n, branch);
  return { axis, labels, count: chains.count };

  /** Of a junction's node, or of one on a branch within a junction. */
  function ownerAt(n: number, branch: Branch): number {
    const junction = junctionOf[n] >= 0 ? junctionOf[n] : junctionOf[branch[0]];
    return chains.ownerOf.get(junction) ?? 0;
  }
}

/** `branch` leads from a tip to its junction. */
function isArm(branch: readonly AxisNode[]): boolean {
  const root = branch[branch.length - 1];
  const protrusion = branchLength(branch) + branch[0].radiusMm - root.radiusMm;
  // The mean width outside the junction's circle: what lies within it is the junction's.
  const outside = branch.filter(({ point }) => distance(point, root.point) > root.radiusMm);
  if (outside.length === 0) return false;
  const meanWidth = (2 * outside.reduce((sum, { radiusMm }) => sum + radiusMm, 0)) / outside.length;
  return protrusion >= ARM_SHARE * meanWidth;
}

/** For each node the number of its junction, -1 for nodes in between. */
function junctions(nodes: readonly AxisNode[], branches: readonly Branch[]): Int32Array {
  const junctionOf = Int32Array.from(nodes, ({ links }, n) => (links.length > 2 ? n : -1));
  for (const branch of branches) {
    const [a, b] = [branch[0], branch[branch.length - 1]];
    if (a === b || junctionOf[a] < 0 || junctionOf[b] < 0) continue;
    const length = branchLength(branch.map((n) => nodes[n]));
    if (length >= nodes[a].radiusMm + nodes[b].radiusMm) continue;
    const [kept, gone] = [junctionOf[a], junctionOf[b]];
    for (let n = 0; n < nodes.length; n++) if (junctionOf[n] === gone) junctionOf[n] = kept;
  }
  return junctionOf;
}

/** Whether a branch leads from a junction to the same one, within it. */
function isWithin(branch: Branch, junctionOf: Int32Array): boolean {
  const [a, b] = [branch[0], branch[branch.length - 1]];
  return a !== b && junctionOf[a] >= 0 && junctionOf[a] === junctionOf[b];
}

interface ArmEnd {
  readonly arm: number;
  /** Whether it is the arm's first node that meets the junction, else the last. */
  readonly first: boolean;
  readonly direction: Point;
}

interface Chains {
  readonly chainOf: readonly number[];
  readonly count: number;
  /** For each junction the chain that takes its area. */
  readonly ownerOf: ReadonlyMap<number, number>;
}

/** Joins arms through junctions, two at each at most. */
function chainArms(nodes: readonly AxisNode[], arms: readonly Branch[], junctionOf: Int32Array): Chains {
  const ends = new Map<number, ArmEnd[]>();
  arms.forEach((arm, k) => {
    for (const first of [true, false]) {
      const inwards = first ? arm : [...arm].reverse();
      const junction = junctionOf[inwards[0]];
      if (junction < 0) continue;
      const end = { arm: k, first, direction: directionOf(inwards.map((n) => nodes[n])) };
      ends.set(junction, [...(ends.get(junction) ?? []), end]);
    }
  });
  const through = new Map<number, readonly [ArmEnd, ArmEnd]>();
  for (const [junction, some] of ends) {
    const pair = straightest(some);
    if (pair !== null) through.set(junction, pair);
  }
  for (;;) {
    const chainOf = joined(arms.length, through);
    const clash = selfAbutting(ends, through, chainOf);
    if (clash !== null) {
      through.delete(clash);
      continue;
    }
    const numbers = [...new Set(chainOf)];
    const ownerOf = new Map(
      [...ends].map(([junction, some]): [number, number] => {
        const owner = through.get(junction)?.[0] ?? longest(some, arms, nodes);
        return [junction, numbers.indexOf(chainOf[owner.arm])];
      }),
    );
    return { chainOf: chainOf.map((chain) => numbers.indexOf(chain)), count: numbers.length, ownerOf };
  }
}

/** The way an arm leaves its junction, measured a little outside of the junction's circle. */
function directionOf(arm: readonly AxisNode[]): Point {
  const [root] = arm;
  const far =
    arm.find(({ point }) => distance(point, root.point) >= 1.5 * root.radiusMm) ?? arm[arm.length - 1];
  const length = distance(root.point, far.point) || 1;
  return [(far.point[0] - root.point[0]) / length, (far.point[1] - root.point[1]) / length];
}

function straightest(ends: readonly ArmEnd[]): readonly [ArmEnd, ArmEnd] | null {
  let best: readonly [ArmEnd, ArmEnd] | null = null;
  let least = -Math.cos(THROUGH_RAD);
  for (let i = 0; i < ends.length; i++)
    for (let j = i + 1; j < ends.length; j++) {
      const [a, b] = [ends[i].direction, ends[j].direction];
      const dot = a[0] * b[0] + a[1] * b[1];
      if (dot < least) [least, best] = [dot, [ends[i], ends[j]]];
    }
  return best;
}

/** For each arm one of the arms of its chain, the same for all of them. */
function joined(count: number, through: ReadonlyMap<number, readonly [ArmEnd, ArmEnd]>): number[] {
  const chain = Array.from({ length: count }, (_, k) => k);
  for (const [a, b] of through.values()) {
    const [kept, gone] = [chain[a.arm], chain[b.arm]];
    for (let k = 0; k < count; k++) if (chain[k] === gone) chain[k] = kept;
  }
  return chain;
}

/** A junction whose column would have to be cut off another: a chain that also ends at its own side is taken apart. */
function selfAbutting(
  ends: ReadonlyMap<number, readonly ArmEnd[]>,
  through: ReadonlyMap<number, readonly [ArmEnd, ArmEnd]>,
  chainOf: readonly number[],
): number | null {
  for (const [junction, some] of ends) {
    const pair = through.get(junction);
    if (pair === undefined) continue;
    const chain = chainOf[pair[0].arm];
    const abuts = some.filter((end) => !pair.includes(end) && chainOf[end.arm] === chain);
    if (abuts.length === 0) continue;
    // Taken apart here or at the other end of what abuts, wherever the column would turn more.
    const candidates = [...through].filter(
      ([other, [a, b]]) =>
        other === junction ||
        [a, b].some((end) => abuts.some(({ arm, first }) => end.arm === arm && end.first !== first)),
    );
    const bend = ([, [a, b]]: (typeof candidates)[number]): number =>
      a.direction[0] * b.direction[0] + a.direction[1] * b.direction[1];
    return candidates.reduce((worst, one) => (bend(one) > bend(worst) ? one : worst))[0];
  }
  return null;
}

function longest(ends: readonly ArmEnd[], arms: readonly Branch[], nodes: readonly AxisNode[]): ArmEnd {
  const length = ({ arm }: ArmEnd): number => branchLength(arms[arm].map((n) => nodes[n]));
  return ends.reduce((best, end) => (length(end) > length(best) ? end : best));
}

/**
 * The best order of some pieces by dynamic programming over what is sewn and which piece came last (Held and
 * Karp 1962, with precedence as in Lawler 1979). Whether one piece can be joined to the next depends on what is
 * still to come, and that is what the state says; so the count of strands is exact. Where there are too many
 * states, only the most promising of each length are kept (a beam), and the result is no longer proven.
 */
import { type Bits, bitsKey, containsBits, hasBit, setBit } from "./bits.ts";
import type { Precedence } from "./precedence.ts";

export interface OrderTask {
  readonly precedence: Precedence;
  readonly colours: readonly number[];
  /** What it costs that `next` follows `last` directly, with these pieces sewn before `next`. */
  readonly stepCost: (last: number, next: number, sewn: Bits) => number;
  /** A bound on what is still to pay from here. */
  readonly left: (last: number, sewn: Bits) => number;
  /** Keep to the colour on the needle while any piece of it can be sewn. */
  readonly staysInColour: boolean;
  /** States kept of each length. */
  readonly width: number;
}

export interface OrderFound {
  readonly order: readonly number[];
  readonly cost: number;
  readonly proven: boolean;
}

interface State {
  readonly sewn: Bits;
  readonly last: number;
  readonly cost: number;
  readonly promise: number;
  readonly came: State | null;
}

/** Orders `items` (ascending), with the pieces in `sewn` already sewn and `last` (or −1) sewn last. */
export function searchOrder(items: readonly number[], sewn: Bits, last: number, task: OrderTask): OrderFound {
  let layer: State[] = [{ sewn, last, cost: 0, promise: 0, came: null }];
  let proven = !task.staysInColour;
  for (let length = 0; length < items.length; length++) {
    const next = new Map<string, State>();
    for (const state of layer) {
      for (const k of choices(items, state, task)) {
        const cost = state.cost + task.stepCost(state.last, k, state.sewn);
        const after = state.sewn.slice();
        setBit(after, k);
        const key = `${k} ${bitsKey(after)}`;
        const known = next.get(key);
        if (known && known.cost <= cost) continue;
        const promise = cost + (known ? known.promise - known.cost : task.left(k, after));
        next.set(key, { sewn: after, last: k, cost, promise, came: state });
      }
    }
    layer = [...next.values()];
    if (layer.length > task.width) {
      layer = layer.sort((a, b) => a.promise - b.promise || a.last - b.last).slice(0, task.width);
      proven = false;
    }
  }
  const best = layer.reduce((a, b) => (b.cost < a.cost ? b : a));
  const order: number[] = [];
  for (let at: State = best; at.came; at = at.came) order.unshift(at.last);
  return { order, cost: best.cost, proven };
}

function choices(items: readonly number[], { sewn, last }: State, task: OrderTask): number[] {
  const ready = items.filter((k) => !hasBit(sewn, k) && containsBits(sewn, task.precedence.before[k]));
  if (!task.staysInColour || last < 0) return ready;
  const same = ready.filter((k) => task.colours[k] === task.colours[last]);
  return same.length > 0 ? same : ready;
}

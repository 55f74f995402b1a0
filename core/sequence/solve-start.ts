/** Orders to start from: always the nearest piece whose predecessors have all been sewn. */
import type { Instance } from "./solve-instance.ts";
import { hasBit } from "./solve-precedence.ts";

/** An order that obeys precedence, cheap step by step; it holds a forbidden arc only where it saw no other way. */
export function nearestFirst({ size, arcs, precedence }: Instance): Int32Array {
  const order = new Int32Array(size);
  const waitingFor = precedence.beforeCount.slice();
  const isSewn = new Uint8Array(size);
  let last = size;
  for (let place = 0; place < size; place++) {
    let nearest = -1;
    for (let j = 0; j < size; j++) {
      if (isSewn[j] === 1 || waitingFor[j] > 0) continue;
      if (nearest < 0 || arcs[last * (size + 1) + j] < arcs[last * (size + 1) + nearest]) nearest = j;
    }
    order[place] = nearest;
    isSewn[nearest] = 1;
    for (let j = 0; j < size; j++) {
      if (hasBit(precedence.after, precedence.words, nearest, j)) waitingFor[j]--;
    }
    last = nearest;
  }
  return order;
}

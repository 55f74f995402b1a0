/**
 * An order while it is being improved: what its arcs cost, where each piece stands, and a queue of the pieces
 * whose surroundings changed (the «don't look bits» of J. L. Bentley, «Fast algorithms for geometric traveling
 * salesman problems», ORSA Journal on Computing 4, 1992, turned round).
 */
import type { Instance } from "./solve-instance.ts";

/** An order under change: places 1 to size hold the pieces, places 0 and size + 1 the depot. */
export interface Path {
  readonly instance: Instance;
  readonly places: Int32Array;
  /** links[k]: what the arc from place k − 1 to place k costs. */
  readonly links: Float64Array;
  /** Exchanges places from … middle − 1 with middle … end − 1. */
  exchange(from: number, middle: number, end: number): void;
  /** The next piece whose surroundings changed since it was last looked at, -1 if there is none. */
  nextToLookAt(): number;
  placeOf(piece: number): number;
  cost(): number;
  order(): Int32Array;
  reset(order: Int32Array): void;
}

/** The path of an order, every piece of it still to be looked at. */
export function startPath(instance: Instance, start: ArrayLike<number>): Path {
  const { size, mendableArcs } = instance;
  const wide = size + 1;
  const places = new Int32Array(size + 2).fill(size);
  const placeOf = new Int32Array(size + 1);
  const links = new Float64Array(size + 2);
  const spare = new Int32Array(size + 2);
  // Pieces to look at: a ring, each piece in it at most once.
  const queue = new Int32Array(size);
  const isQueued = new Uint8Array(size + 1);
  isQueued[size] = 1;
  let head = 0;
  let queued = 0;

  const lookAt = (piece: number): void => {
    if (isQueued[piece] === 1) return;
    isQueued[piece] = 1;
    queue[(head + queued++) % size] = piece;
  };
  const setLink = (k: number): void => {
    links[k] = mendableArcs[places[k - 1] * wide + places[k]];
  };
  const put = (order: ArrayLike<number>): void => {
    for (let k = 0; k < size; k++) {
      places[k + 1] = order[k];
      placeOf[order[k]] = k + 1;
    }
    for (let k = 1; k <= size + 1; k++) setLink(k);
  };

  put(start);
  for (let k = 1; k <= size; k++) lookAt(places[k]);
  return {
    instance,
    places,
    links,
    exchange(from, middle, end) {
      for (const seam of [from, middle, end]) {
        lookAt(places[seam - 1]);
        lookAt(places[seam]);
      }
      spare.set(places.subarray(from, middle));
      places.copyWithin(from, middle, end);
      places.set(spare.subarray(0, middle - from), from + end - middle);
      for (let k = from; k < end; k++) placeOf[places[k]] = k;
      for (let k = from; k <= end; k++) setLink(k);
    },
    nextToLookAt() {
      if (queued === 0) return -1;
      const piece = queue[head];
      head = (head + 1) % size;
      queued--;
      isQueued[piece] = 0;
      return piece;
    },
    placeOf: (piece) => placeOf[piece],
    cost() {
      let cost = 0;
      for (let k = 1; k <= size + 1; k++) cost += links[k];
      return cost;
    },
    order: () => places.slice(1, size + 1),
    reset: put,
  };
}

/**
 * The states of one layer of the search, in columns. A state is a set of pieces and the last of them; a hash
 * table finds the one that a newly reached state equals, and the cheaper of the two stays.
 */
import { seededRandom } from "./solve-random.ts";

export interface Layer {
  count: number;
  readonly capacity: number;
  /** 32-bit words in a set. */
  readonly words: number;
  readonly sets: Uint32Array;
  readonly last: Int32Array;
  /** Number of the state in the layer before that it was reached from. */
  readonly parents: Int32Array;
  /** Cost so far. */
  readonly costs: Float64Array;
  /** Least cost of an order through the state. */
  readonly bounds: Float64Array;
  readonly hashes: Int32Array;
  /** Open addressing: state number + 1, 0 where free; a power of two long. */
  readonly table: Int32Array;
}

/** An empty layer for sets of pieces 0 to size − 1. */
export function newLayer(size: number, capacity: number): Layer {
  const words = Math.max(1, Math.ceil(size / 32));
  return {
    count: 0,
    capacity,
    words,
    sets: new Uint32Array(capacity * words),
    last: new Int32Array(capacity),
    parents: new Int32Array(capacity),
    costs: new Float64Array(capacity),
    bounds: new Float64Array(capacity),
    hashes: new Int32Array(capacity),
    table: new Int32Array(2 ** Math.ceil(Math.log2(2 * capacity + 1))),
  };
}

/** Puts the empty set in as the only state, `depot` as its last. */
export function startLayer(layer: Layer, depot: number): void {
  layer.count = 1;
  layer.sets.fill(0, 0, layer.words);
  layer.last[0] = depot;
  layer.costs[0] = 0;
  layer.hashes[0] = 0;
}

/** Takes every state out. */
export function clearLayer(layer: Layer): void {
  layer.count = 0;
  layer.table.fill(0);
}

export const holdsPiece = ({ sets, words }: Layer, state: number, piece: number): boolean =>
  ((sets[state * words + (piece >>> 5)] >>> (piece & 31)) & 1) === 1;

/** Whether the set of a state holds all pieces in a row of bits. */
export function holdsAll({ sets, words }: Layer, state: number, rows: Uint32Array, row: number): boolean {
  for (let w = 0; w < words; w++) if ((rows[row * words + w] & ~sets[state * words + w]) !== 0) return false;
  return true;
}

/**
 * Adds the state reached from state `parent` of layer `from` by sewing `piece`, unless it is there already at
 * no more. `marks` holds a random word for each piece: a set's hash is all of its pieces' marks together
 * (A. L. Zobrist, «A new hashing method with application for game playing», 1970). There must be room.
 */
export function addState(
  layer: Layer,
  from: Layer,
  parent: number,
  piece: number,
  cost: number,
  bound: number,
  marks: Int32Array,
): void {
  const { words, sets, table } = layer;
  const hash = from.hashes[parent] ^ marks[piece];
  const row = layer.count * words;
  for (let w = 0; w < words; w++) sets[row + w] = from.sets[parent * words + w];
  sets[row + (piece >>> 5)] |= 1 << (piece & 31);

  const slot = findSlot(layer, hash, piece, row);
  const known = table[slot] - 1;
  if (known >= 0 && cost >= layer.costs[known]) return;
  const state = known >= 0 ? known : layer.count++;
  table[slot] = state + 1;
  layer.last[state] = piece;
  layer.parents[state] = parent;
  layer.costs[state] = cost;
  layer.bounds[state] = bound;
  layer.hashes[state] = hash;
}

/** Where the table holds the state of this set and last piece, or the free slot where it belongs. */
function findSlot(
  { table, hashes, last, sets, words }: Layer,
  hash: number,
  piece: number,
  row: number,
): number {
  const mask = table.length - 1;
  let slot = (hash ^ Math.imul(piece + 1, 0x9e3779b1)) & mask;
  for (; table[slot] !== 0; slot = (slot + 1) & mask) {
    const state = table[slot] - 1;
    if (hashes[state] !== hash || last[state] !== piece) continue;
    let w = 0;
    while (w < words && sets[state * words + w] === sets[row + w]) w++;
    if (w === words) break;
  }
  return slot;
}

/** Keeps the `width` states of least bound, in the order they stand in; returns the least bound taken out. */
export function keepBest(layer: Layer, width: number): number {
  const { count, words, sets, last, parents, costs, bounds, hashes } = layer;
  if (count <= width) return Number.POSITIVE_INFINITY;
  const sorted = bounds.slice(0, count).sort();
  const cut = sorted[width];
  let ties = width;
  for (let k = width; k > 0 && sorted[k - 1] === cut; k--) ties--;
  ties = width - ties;
  clearLayer(layer);
  for (let s = 0; s < count; s++) {
    if (bounds[s] > cut || (bounds[s] === cut && ties-- <= 0)) continue;
    const to = layer.count++;
    for (let w = 0; w < words; w++) sets[to * words + w] = sets[s * words + w];
    last[to] = last[s];
    parents[to] = parents[s];
    costs[to] = costs[s];
    bounds[to] = bounds[s];
    hashes[to] = hashes[s];
    layer.table[findSlot(layer, hashes[to], last[to], to * words)] = to + 1;
  }
  return cut;
}

/** A random word for each piece, the same every time. */
export function hashMarks(size: number): Int32Array {
  const random = seededRandom(size);
  return Int32Array.from({ length: size }, () => random.bits());
}

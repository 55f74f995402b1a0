/**
 * What a planner remembers from one plan to the next, so that planning again after a small change does only what
 * the change touches. Every stage is a pure function of records that never change; a result is found again by the
 * very records that it was made from, and goes when they go. With or without memory the plan is the same.
 */
export interface Memory {
  /**
   * The result of `work`, from memory if `what` was worked out before for the same owners. `what` must name all
   * that the result depends on beyond them.
   */
  recall<T>(what: string, owners: readonly object[], work: () => T): T;
  /** The first record seen with this content; records seen two plans ago and not since are forgotten. */
  same<T extends object>(content: string, record: T): T;
  /** Tells that a new plan begins. */
  turn(): void;
}

/** Remembers nothing. */
export const NO_MEMORY: Memory = {
  recall: (_what, _owners, work) => work(),
  same: (_content, record) => record,
  turn: () => {},
};

/** Results kept for one list of owners: the last so many. A marker dragged about leaves one behind at each place. */
const KEPT = 24;

interface Shelf {
  readonly results: Map<string, unknown>;
  readonly deeper: WeakMap<object, Shelf>;
}

const newShelf = (): Shelf => ({ results: new Map(), deeper: new WeakMap() });

export function createMemory(): Memory {
  const root = newShelf();
  let records = new Map<string, object>();
  let older = new Map<string, object>();
  return {
    recall<T>(what: string, owners: readonly object[], work: () => T): T {
      const { results } = owners.reduce(deeper, root);
      if (results.has(what)) return results.get(what) as T;
      const result = work();
      results.set(what, result);
      if (results.size > KEPT) results.delete(results.keys().next().value as string);
      return result;
    },
    same<T extends object>(content: string, record: T): T {
      const known = (records.get(content) ?? older.get(content) ?? record) as T;
      records.set(content, known);
      return known;
    },
    turn() {
      older = records;
      records = new Map();
    },
  };
}

function deeper(shelf: Shelf, owner: object): Shelf {
  let next = shelf.deeper.get(owner);
  if (!next) {
    next = newShelf();
    shelf.deeper.set(owner, next);
  }
  return next;
}

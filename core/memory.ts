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
  /**
   * Records of a kind, such as the pieces of a drawing, with those that were told of before, under the same id and
   * with the same content, in place of the new ones. What was not among the last two lists of a kind is forgotten.
   */
  known<T extends { readonly id: string }>(kind: string, records: readonly T[]): readonly T[];
}

/** Remembers nothing. */
export const NO_MEMORY: Memory = {
  recall: (_what, _owners, work) => work(),
  known: (_kind, records) => records,
};

/** Results kept for one list of owners: the last so many. A marker dragged about leaves one behind at each place. */
const KEPT = 24;

interface Shelf {
  readonly results: Map<string, unknown>;
  readonly deeper: WeakMap<object, Shelf>;
}

const newShelf = (): Shelf => ({ results: new Map(), deeper: new WeakMap() });

/** A memory that is empty still: hand the same one to every plan of one drawing as it changes. */
export function createMemory(): Memory {
  const root = newShelf();
  /** Of each kind the records of the last two lists by their ids, newer first. */
  const lists = new Map<string, readonly ReadonlyMap<string, object>[]>();
  return {
    recall<T>(what: string, owners: readonly object[], work: () => T): T {
      const { results } = owners.reduce(deeper, root);
      if (results.has(what)) return results.get(what) as T;
      const result = work();
      results.set(what, result);
      if (results.size > KEPT) results.delete(results.keys().next().value as string);
      return result;
    },
    known<T extends { readonly id: string }>(kind: string, records: readonly T[]): readonly T[] {
      const before = lists.get(kind) ?? [];
      const result = records.map((record) => {
        const alike = before.find((list) => sameContent(list.get(record.id), record));
        return (alike?.get(record.id) as T | undefined) ?? record;
      });
      lists.set(kind, [new Map(result.map((record) => [record.id, record])), ...before.slice(0, 1)]);
      return result;
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

/** Whether two plain records, or lists of them, hold the same. */
function sameContent(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return false;
  if (Array.isArray(a) || Array.isArray(b)) {
    if (!Array.isArray(a) || !Array.isArray(b) || a.length !== b.length) return false;
    for (let i = 0; i < a.length; i++) if (!sameContent(a[i], b[i])) return false;
    return true;
  }
  const keys = Object.keys(a);
  return (
    keys.length === Object.keys(b).length &&
    keys.every((key) => Object.hasOwn(b, key) && sameContent(a[key as never], b[key as never]))
  );
}

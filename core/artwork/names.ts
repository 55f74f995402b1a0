/**
 * Stable names for elements. An element with an id keeps it; another gets its tag and its number among the
 * elements of that tag, in document order (`path-7`). Own layers are not counted, so that a planned drawing
 * names its elements as the bare artwork does.
 */
import { guestsIn, isOwn } from "./own-layers.ts";
import { elementsIn } from "./tree.ts";
import type { XmlElement } from "./xml.ts";

export interface Names {
  /** First element of each id, for references. */
  readonly byId: ReadonlyMap<string, XmlElement>;
  readonly nameOf: ReadonlyMap<XmlElement, string>;
}

export function nameElements(root: XmlElement): Names {
  const artwork: XmlElement[] = [];
  collect(root, artwork);
  const byId = new Map<string, XmlElement>();
  for (const element of artwork) {
    const { id } = element.attributes;
    if (id !== undefined && id !== "" && !byId.has(id)) byId.set(id, element);
  }

  const nameOf = new Map<XmlElement, string>();
  const taken = new Set(byId.keys());
  const counts = new Map<string, number>();
  for (const element of artwork) {
    const count = (counts.get(element.name) ?? 0) + 1;
    counts.set(element.name, count);
    const { id } = element.attributes;
    const isFirstOfId = id !== undefined && byId.get(id) === element;
    nameOf.set(element, isFirstOfId ? id : untaken(`${element.name}-${count}`, taken));
  }
  return { byId, nameOf };
}

/** The name, or the name with the first number that makes it unique; either is taken from then on. */
export function untaken(name: string, taken: Set<string>, before = "~"): string {
  if (!taken.has(name)) {
    taken.add(name);
    return name;
  }
  const numbers = numbersTried(taken);
  const stem = name + before;
  let n = numbers.get(stem) ?? 2;
  while (taken.has(stem + n)) n++;
  numbers.set(stem, n + 1);
  taken.add(stem + n);
  return stem + n;
}

/** No name is given back, so what was taken needs no second look: thousands of parts may share one name. */
const tried = new WeakMap<Set<string>, Map<string, number>>();

function numbersTried(taken: Set<string>): Map<string, number> {
  let numbers = tried.get(taken);
  if (!numbers) {
    numbers = new Map();
    tried.set(taken, numbers);
  }
  return numbers;
}

function collect(element: XmlElement, found: XmlElement[]): void {
  const inside = isOwn(element) ? guestsIn(element) : elementsIn(element);
  // A layer with guests is counted as the group that it leaves behind.
  if (!isOwn(element) || inside.length > 0) found.push(element);
  for (const child of inside) collect(child, found);
}

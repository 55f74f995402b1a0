/**
 * Adds items at the end of a list, one by one. Spread into `push`, as many as a large design's stitches would
 * overflow the call stack, which holds each as an argument.
 */
export function append<T>(list: T[], items: Iterable<T>): void {
  for (const item of items) list.push(item);
}

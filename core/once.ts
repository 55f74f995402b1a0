/** Works a value out when it is first asked for. */
export function once<T>(work: () => T): () => T {
  let done: { value: T } | null = null;
  return () => {
    done ??= { value: work() };
    return done.value;
  };
}

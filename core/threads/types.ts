/** What a thread is called by those who sell it, and its number there; empty where it has none. */
export interface ThreadLabel {
  readonly name: string;
  readonly code: string;
}

/** A thread that one can buy. */
export interface Thread extends ThreadLabel {
  /** `#rrggbb` in lower case. */
  readonly hex: string;
}

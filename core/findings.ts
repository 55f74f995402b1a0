import type { Point } from "./geometry/types.ts";

/** `info`: to know; `warning`: to look at before sewing; `error`: not to be sewn like this. */
export type Severity = "info" | "warning" | "error";

/** What a check reports. It never stops the plan: whatever does is an `ArtworkError`. */
export interface Finding {
  /** Stable, kebab-case, one per kind of problem: `text-left-out`, `dark-under-light`. */
  readonly code: string;
  readonly severity: Severity;
  /** The piece it is about, or the id of the element where no piece came of it. */
  readonly piece?: string;
  readonly at?: Point;
  /** What is so, in one sentence that an artist understands. */
  readonly message: string;
  /** What to do about it, in one sentence. */
  readonly remedy: string;
}

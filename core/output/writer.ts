import type { Plan } from "../plan/types.ts";

/** What formats may be told beside the plan. */
export interface WriteOptions {
  /** Any CSS colour; default a natural linen. For formats that show the fabric. */
  readonly fabricColour?: string;
}

/** One format that a plan is written in. */
export interface Writer {
  /** What it is asked for by: `machine` for `--machine`. */
  readonly name: string;
  /** Of its files, without the dot. */
  readonly ending: string;
  /** What it writes, to be read after "write". */
  readonly describe: string;
  /** The whole file: bytes, or text that is stored as UTF-8. The same plan gives the same bytes. */
  write(plan: Plan, options: WriteOptions): Uint8Array | string;
}

/**
 * Splitting a batch over machines. Which *shard* a drawing belongs to follows from its name alone, so that every
 * machine knows its part without asking another, and a drawing that is added or taken away moves no other.
 */
import { createHash } from "node:crypto";
import { CliError } from "../io.ts";

export interface Shard {
  /** From 1. */
  readonly number: number;
  readonly of: number;
}

const MOST_SHARDS = 10_000;

/** @throws CliError where the text is not `I/N` with I from 1 to N */
export function shardFrom(typed: string): Shard {
  const [, first, second] = /^(\d{1,5})\/(\d{1,5})$/.exec(typed) ?? [];
  const shard = { number: Number(first), of: Number(second) };
  if (shard.number >= 1 && shard.number <= shard.of && shard.of <= MOST_SHARDS) return shard;
  throw new CliError(`tuckline: --shard is "${typed}"; give I/N with I from 1 to N, as in 2/8`);
}

/** Whether the drawing of this name is one of the shard's. */
export const isInShard = (name: string, { number, of }: Shard): boolean => shardOf(name, of) === number;

/** The number, from 1, of the shard that a name belongs to: the first 48 bits of its SHA-256, by the number of shards. */
const shardOf = (name: string, of: number): number =>
  (createHash("sha256").update(name, "utf8").digest().readUIntBE(0, 6) % of) + 1;

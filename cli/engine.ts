/**
 * V8, the engine of Node, compiles what is called often a second time, to make it fast, and copies into a function
 * those that it calls. A plan takes a second or so, and with V8's own bounds much of that goes into compiling what
 * is hardly called again; tighter bounds make a first plan an eighth faster, and long ones no slower. Clearing up takes
 * part of it too, most while the room for new objects is small.
 *
 * Such options come and go with V8's versions, and of one that it does not know it complains to the user: so they
 * are set only where they were tried.
 */
import { setFlagsFromString } from "node:v8";

/** The most bytecode that is copied into one function: a third of what V8 would. */
const COPY_LESS = "--max-inlined-bytecode-size-cumulative=300";
/** How much of a function must have run before it is compiled again: three times as much. */
const COMPILE_LATER = "--interrupt-budget=200000";
/** Room for new objects grows to its largest at once, where it would double four times, each after clearing up. */
const ROOM_AT_ONCE = "--semi-space-growth-factor=16";

const OPTIONS_OF_MAJOR: Readonly<Record<string, readonly string[]>> = {
  // Node 20, 22 and 24.
  11: [COPY_LESS, COMPILE_LATER, ROOM_AT_ONCE],
  12: [COPY_LESS],
  13: [COPY_LESS],
};

/** The options for a version of V8; none for one where they were not tried. */
export const engineOptions = (v8Version: string): readonly string[] =>
  OPTIONS_OF_MAJOR[v8Version.split(".")[0]] ?? [];

/** Sets them for this process, its worker threads included. Called before anything else runs. */
export function tuneEngine(): void {
  for (const option of engineOptions(process.versions.v8)) setFlagsFromString(option);
}

/** Every format that a plan is written in. A further one is one file, and one line here. */
import { csvWriter } from "./csv.ts";
import { jsonWriter } from "./json.ts";
import { machineWriter } from "./machine.ts";
import { sheetWriter } from "./run-sheet/page.ts";
import type { Writer } from "./writer.ts";

/** Every format that a plan is written in, the picture aside. */
export const WRITERS: readonly Writer[] = [jsonWriter, machineWriter, csvWriter, sheetWriter];

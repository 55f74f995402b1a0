/**
 * The output folder of a batch, and how a run finds out what an earlier one has done.
 *
 *     DIR/plans/<stem>.<ending>   what was asked for
 *     DIR/thumbs/<stem>.png       for the index
 *     DIR/records/<stem>.json     the drawing is done: its entry of the report, and the sizes of its files
 *
 * Every file is written beside its place and then renamed, and the record is the last of a drawing: where there is
 * one, all that it names is whole. A run that is killed leaves at most one half file a drawing, `….PROCESS.part`,
 * which the next run takes away; two runs at once never write the same one. Nothing is flushed to the disk, which would take longer than planning; where power
 * fails, a file of the wrong size is found by its record and made again.
 */
import { constants } from "node:fs";
import { access, mkdir, readdir, readFile, rename, rm, stat, writeFile } from "node:fs/promises";
import { dirname, join, sep } from "node:path";
import { CliError } from "../io.ts";
import { whyUnwritable } from "../output.ts";
import type { BatchDrawing } from "./drawings.ts";
import type { DrawingFiles } from "./plan-drawing.ts";
import type { PlannedEntry, PlannedFacts } from "./report.ts";
import { FORMATS } from "./request.ts";

/** Of what the outputs are outputs. */
export interface Origin {
  /** SHA-256 of the drawing's bytes. */
  readonly drawing: string;
  /** Digest of all that it is planned with. */
  readonly settings: string;
}

interface DrawingRecord {
  readonly entry: PlannedEntry;
  /** Bytes by path, from the output folder. */
  readonly sizes: Readonly<Record<string, number>>;
}

const PLANS = "plans";
const THUMBS = "thumbs";
const RECORDS = "records";

/** Folders in which everything is an output. */
export const outputFolders = (folder: string): string[] =>
  [PLANS, THUMBS, RECORDS].map((name) => join(folder, name));

/**
 * Makes the output folder.
 *
 * @param shown as typed
 * @throws CliError where it cannot be made or written to
 */
export async function makeOutputFolder(folder: string, shown: string): Promise<void> {
  await attempt(shown, mkdir(folder, { recursive: true }));
  await attempt(shown, access(folder, constants.W_OK | constants.X_OK));
}

const recordOf = ({ stem }: BatchDrawing): string => `${RECORDS}/${stem}.json`;
const thumbnailOf = ({ stem }: BatchDrawing): string => `${THUMBS}/${stem}.png`;
const outputOf = ({ stem }: BatchDrawing, format: string): string => `${PLANS}/${stem}.${FORMATS[format]}`;

/** The entry of a drawing that was planned before, from the same bytes and with the same settings, and is all there. */
export async function entryDone(
  folder: string,
  drawing: BatchDrawing,
  origin: Origin,
): Promise<PlannedEntry | undefined> {
  const record = await readRecord(join(folder, recordOf(drawing)));
  if (record === undefined) return undefined;
  const { entry, sizes } = record;
  if (entry.name !== drawing.name || entry.drawing !== origin.drawing || entry.settings !== origin.settings)
    return undefined;
  const whole = await Promise.all(
    Object.entries(sizes).map(async ([path, size]) => (await sizeOf(join(folder, path))) === size),
  );
  return whole.every(Boolean) ? entry : undefined;
}

/** Undefined where there is none, or one that this version cannot read. */
async function readRecord(path: string): Promise<DrawingRecord | undefined> {
  try {
    const record = JSON.parse(await readFile(path, "utf8"));
    return record?.entry?.status === "planned" && typeof record.sizes === "object" ? record : undefined;
  } catch {
    return undefined;
  }
}

const sizeOf = (path: string): Promise<number | undefined> =>
  stat(path).then(
    ({ size }) => size,
    () => undefined,
  );

/**
 * Writes all that came of a drawing, and takes away what an earlier run left of it.
 *
 * @throws CliError where it cannot be written; then nothing of the drawing is left
 */
export async function storeDrawing(
  folder: string,
  drawing: BatchDrawing,
  origin: Origin,
  facts: PlannedFacts,
  files: DrawingFiles,
): Promise<PlannedEntry> {
  const outputs = Object.fromEntries(
    Object.keys(files.outputs).map((format) => [format, outputOf(drawing, format)]),
  );
  const thumbnail = thumbnailOf(drawing);
  const entry: PlannedEntry = {
    name: drawing.name,
    status: "planned",
    ...origin,
    ...facts,
    outputs,
    thumbnail,
  };
  const written = [
    ...Object.entries(files.outputs).map(([format, bytes]) => ({ path: outputs[format], bytes })),
    { path: thumbnail, bytes: files.thumbnail },
  ];
  const sizes = Object.fromEntries(written.map(({ path, bytes }) => [path, bytes.length]));
  try {
    await clearDrawing(folder, drawing, Object.keys(sizes));
    for (const { path, bytes } of written) await writeWhole(folder, path, bytes);
    const record: DrawingRecord = { entry, sizes };
    await writeWhole(folder, recordOf(drawing), Buffer.from(`${JSON.stringify(record)}\n`));
  } catch (error) {
    await clearDrawing(folder, drawing).catch(() => undefined);
    throw error;
  }
  return entry;
}

/** Takes away all that there is of a drawing, its record first, except what will be written anew. */
export async function clearDrawing(
  folder: string,
  drawing: BatchDrawing,
  kept: readonly string[] = [],
): Promise<void> {
  const outputs = [
    ...Object.keys(FORMATS).map((format) => outputOf(drawing, format)),
    thumbnailOf(drawing),
  ].filter((path) => !kept.includes(path));
  for (const path of [recordOf(drawing), ...outputs]) {
    await attempt(path, rm(join(folder, path), { force: true }));
  }
}

/** Takes away half files of these drawings that runs left which are no more. */
export async function clearParts(folder: string, drawings: readonly BatchDrawing[]): Promise<void> {
  const own = new Set(
    drawings.flatMap((drawing) => [
      recordOf(drawing),
      thumbnailOf(drawing),
      ...Object.keys(FORMATS).map((format) => outputOf(drawing, format)),
    ]),
  );
  for (const kind of [PLANS, THUMBS, RECORDS]) {
    for (const name of await readdir(join(folder, kind), { recursive: true }).catch(() => [])) {
      const [, path, run] = PART.exec(`${kind}/${name.replaceAll(sep, "/")}`) ?? [];
      if (path === undefined || !own.has(path) || isRunning(Number(run))) continue;
      await rm(join(folder, kind, name), { force: true }).catch(() => undefined);
    }
  }
}

/** A process of this machine; one of another machine with the same drawings at the same time is none of ours. */
function isRunning(processId: number): boolean {
  try {
    return process.kill(processId, 0);
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "EPERM";
  }
}

/**
 * Writes a file beside its place and renames it.
 *
 * @param path from the folder; folders in it are made
 * @throws CliError where it cannot be written
 */
export async function writeWhole(folder: string, path: string, bytes: Uint8Array): Promise<void> {
  const place = join(folder, path);
  await attempt(path, mkdir(dirname(place), { recursive: true }));
  const part = partOf(place);
  try {
    await attempt(path, writeFile(part, bytes));
    await attempt(path, rename(part, place));
  } catch (error) {
    await rm(part, { force: true }).catch(() => undefined);
    throw error;
  }
}

const partOf = (path: string): string => `${path}.${process.pid}.part`;
const PART = /^(.*)\.(\d+)\.part$/s;

async function attempt(shown: string, step: Promise<unknown>): Promise<void> {
  try {
    await step;
  } catch (error) {
    throw new CliError(`${shown}: ${whyUnwritable(error)}`);
  }
}

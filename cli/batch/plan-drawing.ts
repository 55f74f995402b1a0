/** One drawing of a batch, bytes in and files out; this is what a worker does. */
import { ArtworkError } from "../../core/errors.ts";
import { writeLayers } from "../../core/layers/write.ts";
import { pictureSvg } from "../../core/output/picture.ts";
import { WRITERS } from "../../core/output/writers.ts";
import { makePlan, readDrawing } from "../../core/plan/make-plan.ts";
import type { Plan } from "../../core/plan/types.ts";
import type { Settings } from "../../core/settings.ts";
import { settingsInDrawing } from "../../core/settings-in-drawing.ts";
import { SettingsError, settingsWith } from "../../core/settings-schema.ts";
import { encode, type Input, inputFrom, withInput } from "../input.ts";
import { CliError } from "../io.ts";
import { pictureBytes } from "../picture.ts";
import { pngOf } from "../png.ts";
import { factsOf, type PlannedFacts } from "./report.ts";
import type { BatchRequest } from "./request.ts";

export interface DrawingBytes {
  /** As a person would type it, for messages. */
  readonly shown: string;
  /** The file's own name, which goes into the plan. */
  readonly fileName: string;
  readonly bytes: Uint8Array;
}

export type DrawingResult =
  | { readonly status: "planned"; readonly facts: PlannedFacts; readonly files: DrawingFiles }
  | { readonly status: "failed"; readonly message: string };

export interface DrawingFiles {
  /** By format. */
  readonly outputs: Readonly<Record<string, Uint8Array>>;
  /** PNG. */
  readonly thumbnail: Uint8Array;
}

/** Longer side of a thumbnail: sharp at half that size on a fine screen. */
const THUMBNAIL_PX = 144;
const MM_PER_INCH = 25.4;

/** Never rejects: what is wrong with a drawing is its result. */
export async function planDrawing(drawing: DrawingBytes, request: BatchRequest): Promise<DrawingResult> {
  try {
    const { shown, fileName } = drawing;
    const bytes = Buffer.from(drawing.bytes);
    const input = inputFrom({ shown, name: fileName, bytes, path: undefined, identity: undefined });
    const plan = withInput(input, (text) => planned(text, fileName, request));
    const files = { outputs: await outputsOf(plan, input, request), thumbnail: await thumbnailOf(plan) };
    return { status: "planned", facts: factsOf(plan), files };
  } catch (error) {
    return { status: "failed", message: messageOf(error) };
  }
}

function planned(text: string, name: string, request: BatchRequest): Plan {
  const { threads, fit } = request;
  const settings = settingsFor(text, request);
  const sized =
    fit === undefined ? settings : { ...settings, widthMm: fittingWidthMm(text, name, settings, fit) };
  return makePlan(text, name, sized, threads);
}

/** The settings of the batch, with those that the drawing carries in their place. */
function settingsFor(text: string, { settings, below, above }: BatchRequest): Settings {
  const { values } = settingsInDrawing(text);
  if (Object.keys(values).length === 0) return settings;
  try {
    return settingsWith({ ...below, ...values, ...above });
  } catch (error) {
    if (!(error instanceof SettingsError)) throw error;
    throw new CliError(`with the settings that the drawing carries, ${error.message}`);
  }
}

/** The width at which the drawing just fits into the box: a thousandth of a millimetre less rather than more. */
function fittingWidthMm(
  text: string,
  name: string,
  settings: Settings,
  box: NonNullable<BatchRequest["fit"]>,
): number {
  // One reading tells the width of a drawing; a patch, whose edge keeps its width, may take another.
  for (let widthMm = box.widthMm; widthMm > 0; ) {
    const { size } = readDrawing(text, name, { ...settings, widthMm, sheetOf: null }).artwork;
    if (size.heightMm <= box.heightMm) return widthMm;
    widthMm = Math.floor(((widthMm * box.heightMm) / size.heightMm) * 1000) / 1000;
    if (settings.patch === "none" && widthMm > 0) return widthMm;
  }
  throw new ArtworkError("The drawing is too narrow for its height to fit the box: set a larger one.");
}

async function outputsOf(plan: Plan, input: Input, request: BatchRequest): Promise<DrawingFiles["outputs"]> {
  const { formats, fabricColour } = request;
  const options = fabricColour === undefined ? {} : { fabricColour };
  const outputs: Record<string, Uint8Array> = {};
  for (const format of formats) {
    const writer = WRITERS.find(({ name }) => name === format);
    if (writer) outputs[format] = bytesOf(writer.write(plan, options));
    else if (format === "svg")
      outputs[format] = encode(
        withInput(input, (text) => writeLayers(text, plan)),
        input.encoding,
      );
    else {
      const picture = { names: [`${input.name}.png`], dpi: undefined, until: undefined, fabricColour };
      [outputs[format]] = await pictureBytes(plan, picture);
    }
  }
  return outputs;
}

const bytesOf = (written: Uint8Array | string): Uint8Array =>
  typeof written === "string" ? Buffer.from(written, "utf8") : written;

function thumbnailOf(plan: Plan): Promise<Uint8Array> {
  const { widthMm, heightMm } = plan.size;
  const dpi = (THUMBNAIL_PX * MM_PER_INCH) / Math.max(widthMm, heightMm);
  return pngOf(pictureSvg(plan, { showTravel: false }), widthMm, dpi);
}

const messageOf = (error: unknown): string => (error instanceof CliError ? error.message : unforeseen(error));

/** What to say of an error that nobody foresaw. */
export function unforeseen(error: unknown): string {
  const what = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
  return `this should not happen (${what}); please report it with the drawing`;
}

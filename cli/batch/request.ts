/** What every drawing of a batch is planned with; plain, so that it can be sent to a worker. */
import { createHash } from "node:crypto";
import { WRITERS } from "../../core/output/writers.ts";
import type { Settings } from "../../core/settings.ts";
import type { SettingsSource } from "../../core/settings-cascade.ts";
import type { Thread } from "../../core/threads/types.ts";
import { CliError } from "../io.ts";
import { VERSION } from "../version.ts";

export interface BatchRequest {
  /** What holds for a drawing that carries no settings of its own. */
  readonly settings: Settings;
  /** What is given below and above those that a drawing carries, where it does. */
  readonly below: SettingsSource["values"];
  readonly above: SettingsSource["values"];
  readonly threads: readonly Thread[] | undefined;
  /** Every drawing as large as goes into this box, in place of one width for all. */
  readonly fit: Box | undefined;
  /** Names, in the order of `FORMATS`. */
  readonly formats: readonly string[];
  readonly fabricColour: string | undefined;
}

export interface Box {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Every format: by what it is asked for, and the ending of its files. */
export const FORMATS: Readonly<Record<string, string>> = {
  svg: "planned.svg",
  ...Object.fromEntries(WRITERS.map(({ name, ending }) => [name, ending])),
  picture: "png",
};

export const PRESET_FORMATS = "svg,json,machine,sheet";

/** @throws CliError where a format is none */
export function formatsFrom(typed: string): string[] {
  const asked = typed.split(",").map((name) => name.trim());
  const unknown = asked.find((name) => !Object.hasOwn(FORMATS, name));
  if (unknown !== undefined)
    throw new CliError(
      `tuckline: --formats names "${unknown}"; the formats are ${Object.keys(FORMATS).join(", ")}`,
    );
  return Object.keys(FORMATS).filter((name) => asked.includes(name));
}

/** As widths may be. */
const [LEAST_MM, MOST_MM] = [5, 2000];

/** @throws CliError where the text is not a width and a height in millimetres with an x between them */
export function boxFrom(typed: string): Box {
  const [, width, height] = /^(\d+(?:\.\d+)?)[x×](\d+(?:\.\d+)?)(?:\s*mm)?$/i.exec(typed.trim()) ?? [];
  const box = { widthMm: Number(width), heightMm: Number(height) };
  if (Object.values(box).every((side) => side >= LEAST_MM && side <= MOST_MM)) return box;
  throw new CliError(
    `tuckline: --fit is "${typed}"; give width x height in mm, each from ${LEAST_MM} to ${MOST_MM}, as in 90x60`,
  );
}

/** Equal where the same drawing would give the same outputs. */
export function digestOf(request: BatchRequest): string {
  const { settings, ...rest } = request;
  const byName = Object.entries(settings).sort(([a], [b]) => (a < b ? -1 : 1));
  return createHash("sha256")
    .update(JSON.stringify([VERSION, byName, rest]))
    .digest("hex")
    .slice(0, 16);
}

/**
 * Reads the drawing of a job. Marks (pins, bends, places in the order) change what is planned but not what is
 * drawn: where a drawing differs from the last one by marks and layers alone, the artwork is the very record
 * that was read before, so that the planner's memory knows it again.
 */
import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex, utf8ToBytes } from "@noble/hashes/utils.js";
import { drawnSettings } from "../../core/artwork/drawn-settings.ts";
import { withoutLayers } from "../../core/artwork/own-layers.ts";
import type { Artwork, Marks } from "../../core/artwork/types.ts";
import { parseXml } from "../../core/artwork/xml.ts";
import type { Finding } from "../../core/findings.ts";
import { readMarks } from "../../core/layers/read-marks.ts";
import { readDrawing } from "../../core/plan/make-plan.ts";
import type { Settings } from "../../core/settings.ts";
import { cascadeSettings } from "../../core/settings-cascade.ts";
import { DRAWING_ORIGIN, settingsInDrawing } from "../../core/settings-in-drawing.ts";
import type { DrawingFacts, PlanJob } from "./protocol.ts";

export interface ReadJob {
  readonly artwork: Artwork;
  /** The drawing's name and hash, marks included. */
  readonly source: Artwork["source"];
  readonly marks: Marks;
  readonly settings: Settings;
  /** About the marks and the settings in the drawing. */
  readonly findings: readonly Finding[];
  readonly facts: DrawingFacts;
  /** The artwork without a patch around it and without copies, with the settings that it is read by. */
  alone(): { readonly artwork: Artwork; readonly settings: Settings };
}

/** What is read from the text without its marks. */
interface ReadArtwork {
  readonly key: string;
  readonly settings: Settings;
  readonly artwork: Artwork;
  readonly own: DrawingFacts["own"];
  alone: ReturnType<ReadJob["alone"]> | null;
}

const MARK = /\sdata-tuck-(?:entry|exit|bend|after)(?:-stroke)?\s*=\s*(?:"[^"]*"|'[^']*')/g;

/** A reader that knows the drawing before. */
export function jobReader(): (job: PlanJob) => ReadJob {
  let known: ReadArtwork | null = null;
  return (job) => {
    const root = parseXml(job.svgText);
    const bare = withoutLayers(job.svgText, root);
    const carried = settingsInDrawing(root);
    const { settings } = cascadeSettings([
      { origin: "given", values: job.given },
      { origin: DRAWING_ORIGIN, values: carried.values },
    ]);
    const key = JSON.stringify([bare.replaceAll(MARK, ""), job.name, settings, job.threads ?? null]);
    if (known?.key !== key) known = readAnew(job, settings, key, known);
    const read = known;
    const { marks, findings } = readMarks(root, read.artwork);
    return {
      artwork: read.artwork,
      source: { name: job.name, sha256: bytesToHex(sha256(utf8ToBytes(bare))) },
      marks,
      settings: read.settings,
      findings: [...carried.findings, ...findings],
      facts: {
        pieces: read.artwork.pieces.map(
          ({ id, element, paint, technique, colour, overrides, groups = [] }) => ({
            id,
            element,
            paint,
            technique,
            colour,
            overrides,
            groups,
          }),
        ),
        own: read.own,
        settings: carried.values,
        marks,
        hasLayers: bare !== job.svgText,
      },
      alone() {
        read.alone ??= readAlone(job, read);
        return read.alone;
      },
    };
  };
}

/** Settings stay the same record as long as they say the same, since results are remembered by them. */
function readAnew(job: PlanJob, settings: Settings, key: string, before: ReadArtwork | null): ReadArtwork {
  const isSame = before !== null && JSON.stringify(before.settings) === JSON.stringify(settings);
  const kept = isSame ? before.settings : settings;
  return {
    key,
    settings: kept,
    artwork: readDrawing(job.svgText, job.name, kept, job.threads).artwork,
    own: drawnSettings(job.svgText).drawn,
    alone: null,
  };
}

function readAlone({ svgText, name, threads }: PlanJob, { settings, artwork }: ReadArtwork) {
  if (settings.patch === "none" && settings.sheetOf === null) return { artwork, settings };
  const plain: Settings = { ...settings, patch: "none", sheetOf: null };
  return { artwork: readDrawing(svgText, name, plain, threads).artwork, settings: plain };
}

/**
 * Reading a machine file back: what its header says, what it holds, and the design in millimetres as a plan has
 * it, so that whatever draws a plan draws it too.
 *
 * The file knows neither colours nor trims. Its threads get colours of ours, in turn; a run of jumps is taken for
 * a trim where it is as long as machines are commonly set to (see `trimJumps`), or where the thread changes.
 */
import { ArtworkError } from "../errors.ts";
import { countStitches, threadPathMm } from "../plan/metrics.ts";
import { isSewn } from "../plan/steps.ts";
import type { SewingStep, SewnStep } from "../plan/types.ts";
import { HEADER_BYTES } from "./machine.ts";
import { UNITS_PER_MM } from "./machine-moves.ts";
import { type Move, RECORD_BYTES, readRecord } from "./machine-record.ts";
import type { Drawable } from "./picture.ts";

export interface MachineHeader {
  readonly name: string;
  readonly records: number | null;
  readonly colourChanges: number | null;
  /** Reach from the start in millimetres; null where the header does not say. */
  readonly rightMm: number | null;
  readonly leftMm: number | null;
  readonly upMm: number | null;
  readonly downMm: number | null;
}

export interface MachineBlock {
  readonly stitches: number;
  /** The trim after its last strand is its own, except at the design's end. */
  readonly trims: number;
  readonly threadMm: number;
}

/** What a stitch file says, ready to be drawn. */
export interface MachineDesign extends Drawable {
  readonly header: MachineHeader;
  /** Records before the closing one, and of them those that jump. */
  readonly records: number;
  readonly jumps: number;
  readonly stitches: number;
  readonly colourChanges: number;
  readonly trims: number;
  readonly blocks: readonly MachineBlock[];
  /** Where the machine starts, in the design's millimetres: x right, y down, from its top left corner. */
  readonly startMm: readonly [x: number, y: number];
  /** What does not agree in the file, a sentence each. */
  readonly faults: readonly string[];
}

/** Slate, terracotta, reed, ochre, water, plum: told apart by lightness too, in this order over and over. */
const COLOURS = ["#3d5566", "#c0573f", "#7c8f4e", "#d9a441", "#6fa3b8", "#70455f"] as const;

/** Whether these bytes are a machine file, as far as its first field and its length tell. */
export const isMachineFile = (bytes: Uint8Array): boolean =>
  bytes.length >= HEADER_BYTES && bytes[0] === 0x4c && bytes[1] === 0x41 && bytes[2] === 0x3a;

/**
 * Reads a stitch file back into what it sews.
 *
 * @param trimJumps so many jumps in a row are a trim
 * @throws ArtworkError where this is no machine file or there is nothing in it
 */
export function readMachineFile(bytes: Uint8Array, trimJumps = 3): MachineDesign {
  if (!isMachineFile(bytes))
    throw new ArtworkError("This is no machine file; write one from a drawing with --machine.");
  const { moves, faults } = movesIn(bytes);
  const walked = walk(moves, trimJumps);
  if (walked.box === undefined)
    throw new ArtworkError("No stitch is in this machine file; write it again from the drawing.");
  const { minX, minY, maxX, maxY } = walked.box;
  const sewing = walked.sewing.map((step) => shifted(step, -minX, -minY));
  const sewn = sewing.filter(isSewn);
  const blocks = numbersTo(walked.blocks).map((block) => blockFigures(sewn, block, walked.blocks));
  const design = {
    header: headerIn(bytes),
    records: moves.length,
    jumps: moves.filter(({ kind }) => kind === "jump").length,
    stitches: countStitches(sewing),
    colourChanges: moves.filter(({ kind }) => kind === "change").length,
    trims: sewing.filter(({ role }) => role === "trim").length,
    blocks,
    size: { widthMm: maxX - minX, heightMm: maxY - minY },
    startMm: [0 - minX, 0 - minY] as const,
    sewing,
    pieces: numbersTo(walked.blocks).map((k) => ({
      id: `block-${k + 1}`,
      colour: COLOURS[k % COLOURS.length],
    })),
  };
  return { ...design, faults: [...faults, ...headerFaults(design)] };
}

const numbersTo = (count: number): number[] => Array.from({ length: count }, (_, k) => k);

function movesIn(bytes: Uint8Array): { moves: Move[]; faults: string[] } {
  const moves: Move[] = [];
  for (let offset = HEADER_BYTES; offset + RECORD_BYTES <= bytes.length; offset += RECORD_BYTES) {
    const move = readRecord(bytes, offset);
    if (move.kind === "end") return { moves, faults: [] };
    moves.push(move);
  }
  return { moves, faults: ["The file ends without its closing record: it may have been cut short."] };
}

/** The text of the header as numbers. */
function headerIn(bytes: Uint8Array): MachineHeader {
  const text = String.fromCharCode(...bytes.subarray(0, HEADER_BYTES));
  const field = (name: string): string | undefined =>
    text
      .split(/[\r\n]+/)
      .find((line) => line.startsWith(`${name}:`))
      ?.slice(name.length + 1)
      .trim();
  const number = (name: string): number | null => {
    const value = field(name);
    return value !== undefined && /^[+-]? *\d+$/.test(value) ? Number(value.replaceAll(" ", "")) : null;
  };
  const millimetres = (name: string): number | null => {
    const units = number(name);
    return units === null ? null : units / UNITS_PER_MM;
  };
  return {
    name: (field("LA") ?? "").replace(/[^\x20-\x7e]/g, "?"),
    records: number("ST"),
    colourChanges: number("CO"),
    rightMm: millimetres("+X"),
    leftMm: millimetres("-X"),
    upMm: millimetres("+Y"),
    downMm: millimetres("-Y"),
  };
}

interface Walked {
  readonly sewing: SewingStep[];
  readonly blocks: number;
  readonly box: { minX: number; minY: number; maxX: number; maxY: number } | undefined;
}

/** The needle's way from the start at 0, 0, in millimetres with y down. Units are added up, for they are whole. */
function walk(moves: readonly Move[], trimJumps: number): Walked {
  const sewing: SewingStep[] = [];
  let [unitsX, unitsY, block, strand] = [0, 0, 0, 0];
  let thread: number[] = [];
  let jumped = 0;
  let changed = false;
  let [minX, minY] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  let [maxX, maxY] = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];

  const endStrand = () => {
    if (thread.length === 0) return;
    // The first of a strand is a needle point of its own; `tie-in` says so to whoever counts stitches.
    sewing.push(sewnStep("tie-in", block, strand, thread.slice(0, 2)));
    sewing.push(sewnStep("cover", block, strand, thread));
    thread = [];
    strand++;
  };

  for (const { kind, dx, dy } of moves) {
    [unitsX, unitsY] = [unitsX + dx, unitsY - dy];
    if (kind === "jump") jumped++;
    if (kind === "change") changed = true;
    if (kind !== "stitch") continue;
    if (changed || jumped >= trimJumps) {
      const sewnBefore = thread.length > 0;
      endStrand();
      if (sewnBefore) sewing.push({ role: "trim" });
      if (changed && sewnBefore) {
        block++;
        sewing.push({ role: "colour-change", colour: COLOURS[block % COLOURS.length] });
      }
    }
    [jumped, changed] = [0, false];
    const [x, y] = [unitsX / UNITS_PER_MM, unitsY / UNITS_PER_MM];
    thread.push(x, y);
    [minX, maxX] = [Math.min(minX, x), Math.max(maxX, x)];
    [minY, maxY] = [Math.min(minY, y), Math.max(maxY, y)];
  }
  endStrand();
  return { sewing, blocks: block + 1, box: minX > maxX ? undefined : { minX, minY, maxX, maxY } };
}

const sewnStep = (role: SewnStep["role"], block: number, strand: number, points: number[]): SewnStep => ({
  role,
  block,
  strand,
  piece: `block-${block + 1}`,
  points: Float64Array.from(points),
});

const shifted = (step: SewingStep, byX: number, byY: number): SewingStep =>
  isSewn(step) ? { ...step, points: step.points.map((value, k) => value + (k % 2 === 0 ? byX : byY)) } : step;

function blockFigures(sewn: readonly SewnStep[], block: number, blocks: number): MachineBlock {
  const own = sewn.filter((step) => step.block === block);
  const strands = new Set(own.map(({ strand }) => strand)).size;
  return {
    stitches: countStitches(own),
    trims: block + 1 < blocks ? strands : strands - 1,
    threadMm: own.reduce((length, { points }) => length + threadPathMm(points), 0),
  };
}

/** Some programs count the closing record too: that is no fault. */
function headerFaults({
  header,
  records,
  colourChanges,
}: Pick<MachineDesign, "header" | "records" | "colourChanges">): string[] {
  const faults: string[] = [];
  if (header.records !== null && header.records !== records && header.records !== records + 1)
    faults.push(`The header says ${header.records} records, and there are ${records}.`);
  if (header.colourChanges !== null && header.colourChanges !== colourChanges)
    faults.push(`The header says ${header.colourChanges} colour changes, and there are ${colourChanges}.`);
  return faults;
}

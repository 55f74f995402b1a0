/**
 * What the panel and its planning worker say to each other: plain records, so that structured cloning carries
 * them. The panel asks, each time under a new number (`job`); the worker answers every job once, with `done`,
 * `cancelled` or `failed`, and may tell its progress before. Points are millimetres.
 */
import type { DrawnSetting } from "../../core/artwork/drawn-settings.ts";
import type { Marks, PieceOverrides, Technique } from "../../core/artwork/types.ts";
import type { Explanation } from "../../core/plan/explain.ts";
import type { ThreadUse } from "../../core/plan/thread-use.ts";
import type { MoveVerdict } from "../../core/sequence/legal-moves.ts";
import type { Thread } from "../../core/threads/types.ts";
import type { PlanPicture } from "../canvas/picture.ts";
import type { AttributeEdit } from "../editor-host.ts";
import type { PackedPlan, PackedShapes } from "./pack.ts";

/** A drawing to be planned, and what is given beside it. */
export interface PlanJob {
  readonly svgText: string;
  readonly name: string;
  /** Settings that hold where the drawing itself says nothing. */
  readonly given: Readonly<Record<string, unknown>>;
  /** A list to choose threads from; without it the drawing's own colours are sewn. */
  readonly threads?: readonly Thread[];
}

/** The same words for the same drawing, whoever asks: so a plan that is there or under way is known again. */
export const planJob = (
  svgText: string,
  name: string,
  { given, threads }: { readonly given: PlanJob["given"]; readonly threads?: PlanJob["threads"] | undefined },
): PlanJob => ({ svgText, name, given, ...(threads === undefined ? {} : { threads }) });

export type OutputName = "json" | "machine" | "csv" | "sheet" | "picture" | "planned" | "artwork";

/** What layers are not to carry on: pins and bends that markers and connectors in earlier layers stand for. */
export interface LeftOut {
  readonly pins?: readonly { readonly piece: string; readonly point: "entry" | "exit" }[];
  readonly bends?: readonly { readonly from: string; readonly to: string }[];
}

export type Request =
  | { readonly kind: "plan"; readonly drawing: PlanJob }
  /** How it will look when it is sewn, as large as fits into so many pixels. */
  | { readonly kind: "look"; readonly drawing: PlanJob; readonly width: number; readonly height: number }
  /** Plans with one marker moved, for practice: so that the planner is quick when the artist does it. */
  | { readonly kind: "rehearse"; readonly drawing: PlanJob; readonly share: number }
  /** Why the machine stops, and what would save a stop. */
  | { readonly kind: "explain"; readonly drawing: PlanJob }
  /** A file of the newest plan. */
  | { readonly kind: "output"; readonly name: OutputName; readonly drawing: PlanJob }
  /** The drawing, edits made first, with its plan's layers in place of any that it has. */
  | {
      readonly kind: "layers";
      readonly drawing: PlanJob;
      readonly edits?: readonly AttributeEdit[];
      readonly without?: LeftOut;
    }
  /** The drawing without layers. */
  | { readonly kind: "strip"; readonly svgText: string }
  /** Whether pieces can be sewn right after another (`null`: first of all), and what to change for it. */
  | {
      readonly kind: "judge";
      readonly drawing: PlanJob;
      readonly pieces: readonly string[];
      readonly after: string | null;
    };

/** What each kind of request is answered with. */
export interface Answers {
  readonly plan: Planned;
  /** `null` where nothing is sewn. */
  readonly look: PlanPicture | null;
  readonly rehearse: null;
  readonly explain: Pick<Explanation, "stops" | "suggestions">;
  readonly output: OutputFile;
  readonly layers: { readonly svgText: string };
  readonly strip: { readonly svgText: string };
  readonly judge: MoveVerdict;
}

export type AskMessage = Request & {
  readonly job: number;
};

/** Sent once, first: a number that both sides see. The plan of the job that it names, and all before it, are to stop. */
export interface HelloMessage {
  readonly kind: "hello";
  readonly cancelled: SharedArrayBuffer | null;
}

export type ToWorker = HelloMessage | AskMessage;

export type FromWorker =
  | { readonly kind: "progress"; readonly job: number; readonly share: number }
  | { readonly kind: "done"; readonly job: number; readonly answer: Answers[keyof Answers] }
  | { readonly kind: "cancelled"; readonly job: number }
  | { readonly kind: "failed"; readonly job: number; readonly problem: Problem };

/** What is wrong, and what to do about it. */
export interface Problem {
  readonly message: string;
  readonly remedy: string;
}

export interface Planned {
  readonly plan: PackedPlan;
  readonly threadUse: readonly ThreadUse[];
  readonly drawing: DrawingFacts;
  readonly shapes: PackedShapes;
}

/** What the panel shows of the drawing itself, beside the plan. */
export interface DrawingFacts {
  /** All that is painted, in paint order; what is set to be skipped too. */
  readonly pieces: readonly DrawnPiece[];
  /** What single elements and groups set with `data-tuck-*`. */
  readonly own: readonly DrawnSetting[];
  /** Settings that the drawing carries for itself. */
  readonly settings: Readonly<Record<string, unknown>>;
  /** Pins, bends and places in the order that the artist asked for. */
  readonly marks: Marks;
  /** Whether layers of an earlier plan lie in it. */
  readonly hasLayers: boolean;
}

export interface DrawnPiece {
  readonly id: string;
  readonly element: string;
  readonly paint: "fill" | "stroke";
  readonly technique: Technique;
  readonly colour: string;
  readonly overrides: PieceOverrides;
  /** Names of the groups around it. */
  readonly groups: readonly string[];
}

export interface OutputFile {
  readonly fileName: string;
  readonly type: string;
  readonly content: Uint8Array | string;
}

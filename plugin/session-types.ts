/**
 * What the panel and what is drawn on the canvas share: one state, changed only through the session's actions,
 * and told to all who listen. Points are millimetres, as in the plan, unless a name says otherwise.
 */

import type { Point } from "../core/geometry/types.ts";
import type { Explanation } from "../core/plan/explain.ts";
import type { Plan } from "../core/plan/types.ts";
import type { Unsubscribe } from "./editor-host.ts";

/** What can be pointed at, on the canvas and in the panel alike. */
export type Target =
  | { readonly kind: "piece"; readonly id: string }
  | { readonly kind: "connector"; readonly id: string }
  | { readonly kind: "marker"; readonly piece: string; readonly point: "entry" | "exit" }
  | { readonly kind: "strand"; readonly index: number }
  | { readonly kind: "block"; readonly index: number }
  /** By its place among the plan's findings. */
  | { readonly kind: "finding"; readonly index: number };

/** What can be laid over the drawing, bottom first. */
export const OVERLAYS = ["sew-out", "stitches", "connectors", "points", "findings"] as const;
export type OverlayName = (typeof OVERLAYS)[number];

export interface PlayerState {
  readonly isPlaying: boolean;
  /** Stitches sewn so far; `null`: the player is closed and the whole design is shown. */
  readonly at: number | null;
  readonly stitchesPerSecond: number;
}

export interface SessionState {
  /** The newest finished plan; `null` before the first and where nothing can be planned. */
  readonly plan: Plan | null;
  /** Counts up with every new plan. */
  readonly planSerial: number;
  /** Stops and suggestions for this plan, once they are worked out. */
  readonly explanation: Pick<Explanation, "stops" | "suggestions"> | null;
  /** Planning goes on: how far, 0 to 1. */
  readonly planning: { readonly share: number } | null;
  /** Why nothing can be planned, and what to do. */
  readonly problem: { readonly message: string; readonly remedy: string } | null;
  readonly pointed: Target | null;
  /** Ids of the pieces of the elements that are selected in the editor. */
  readonly selected: readonly string[];
  readonly shown: ReadonlySet<OverlayName>;
  readonly player: PlayerState;
}

export interface Session {
  readonly state: SessionState;
  /** Called after every change with what it was before. */
  subscribe(listener: (state: SessionState, before: SessionState) => void): Unsubscribe;

  point(target: Target | null): void;
  /** Selects it in the editor (its pieces) and brings it into view. */
  choose(target: Target): void;
  show(overlay: OverlayName, isShown: boolean): void;
  play(change: Partial<PlayerState>): void;

  /** Each of these is one step of the editor's undo; planning follows at once. */
  pin(piece: string, point: "entry" | "exit", at: Point): void;
  release(piece: string, point: "entry" | "exit"): void;
  /** Leads a connector through these points; none: lets it find its own way again. */
  bend(connector: string, through: readonly Point[]): void;
  setAngle(pieces: readonly string[], angleDeg: number | null): void;

  /** What somebody set for a piece's rows, on its element or a group around it; `null`: the plan decides. */
  angleSet(piece: string): number | null;

  /** Where a marker may stand nearest to a place: on the piece, as planning would put it. Answers at once. */
  nearestLegal(piece: string, point: "entry" | "exit", at: Point): Point;
  /** Whether thread that lies there once the piece is sewn will be hidden by what is sewn later. Answers at once. */
  isTucked(piece: string, at: Point): boolean;
}

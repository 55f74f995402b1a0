/** What the panel knows and can do beyond what it shares with the canvas. */
import type { Change } from "../../core/plan/changes.ts";
import type { ThreadUse } from "../../core/plan/thread-use.ts";
import type { MoveVerdict } from "../../core/sequence/legal-moves.ts";
import type { Settings } from "../../core/settings.ts";
import type { SettingName } from "../../core/settings-schema.ts";
import type { Unsubscribe } from "../editor-host.ts";
import type { Session, SessionState } from "../session-types.ts";
import type { DrawingFacts, OutputName, Problem } from "../worker/protocol.ts";
import type { OverrideName } from "./edits.ts";

export interface PanelState extends SessionState {
  /** Ids of the elements that are selected in the editor. */
  readonly selectedElements: readonly string[];
  readonly facts: DrawingFacts | null;
  readonly threadUse: readonly ThreadUse[];
  /** The settings that hold, and those that would if the drawing said nothing but its recipe. */
  readonly settings: Settings;
  readonly inherited: Settings;
  readonly isExplaining: boolean;
  /** The artist stopped planning: what is shown is not the plan of what is drawn. */
  readonly isStopped: boolean;
  /** What was done last, or went wrong. */
  readonly notice: Notice | null;
  readonly fileName: string | null;
}

export interface Notice {
  readonly text: string;
  readonly remedy?: string;
  readonly kind: "done" | "trouble" | "question";
  /** It was a change of the drawing, which the editor can take back. */
  readonly canUndo?: boolean;
  readonly action?: { readonly label: string; run(): void };
}

export interface PanelSession extends Session {
  readonly state: PanelState;
  subscribe(listener: (state: PanelState, before: PanelState) => void): Unsubscribe;

  /**
   * Sews pieces right after another; `null`: first of all. Where that would show a lower piece above a higher one,
   * nothing is changed, and the notice says so and offers the nearest place that is legal.
   */
  move(pieces: readonly string[], after: string | null): void;
  /** Whether it can be done; `null` where the drawing changed meanwhile. */
  judgeMove(pieces: readonly string[], after: string | null): Promise<MoveVerdict | null>;
  /** Gives pieces the place back that the drawing has them in. */
  releaseOrder(pieces: readonly string[]): void;

  /** Selects pieces in the editor, without bringing them into view. */
  selectPieces(pieces: readonly string[]): void;
  setOverride(elements: readonly string[], name: OverrideName, value: string | number | null): void;
  makeStrand(pieces: readonly string[]): void;
  undoStrand(pieces: readonly string[]): void;

  /** `undefined`: what is given elsewhere. */
  setSettings(values: { readonly [Name in SettingName]?: Settings[Name] | undefined }): void;
  /** Makes a suggested change, where it is one of order or settings. */
  apply(change: Change): void;

  writeLayers(): void;
  takeLayersAway(): void;
  download(name: OutputName): void;
  save(): void;
  saveAs(fileName: string): void;
  undo(): void;
  redo(): void;
  readonly openDemo: (() => void) | null;

  /** Has reasons and suggestions for this plan worked out, when all has been at rest for a while. */
  explain(): void;
  cancelPlanning(): void;
  planNow(): void;
  dismissNotice(): void;
  end(): void;
}

export type { Problem };

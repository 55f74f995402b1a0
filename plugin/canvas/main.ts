/**
 * What lies over the drawing: thread and stitches, painted by a worker; connectors, markers, findings, the dial and
 * the needle as marks that can be pointed at and dragged. All of it follows the editor's view and the session.
 */
import type { Plan } from "../../core/plan/types.ts";
import type { EditorHost } from "../editor-host.ts";
import type { OverlayName, Session, SessionState } from "../session-types.ts";
import { createAngleDial } from "./angle-dial.ts";
import { createConnectors } from "./connectors.ts";
import { stitchesOfTarget } from "./emphasis.ts";
import { createFabric } from "./fabric.ts";
import { createFindingMarks } from "./finding-marks.ts";
import { createMarkers } from "./markers.ts";
import { createNeedle } from "./needle.ts";
import { trackOf } from "./needle-track.ts";
import { playerClock } from "./player-clock.ts";
import { followPointer } from "./pointing.ts";
import { createSurface } from "./surface.ts";
import { threadView } from "./thread-view.ts";

export { placeAt, stepTo, stitchCount } from "./player.ts";

/** Where the painter's module lies: beside this one. */
const PAINTER = "threads.js";

/** What is told to those who watch the canvas at work, such as measurements. */
export interface CanvasWatch {
  /** Called for every picture that comes onto the canvas. */
  onFrame?(frame: { readonly layer: string; readonly at: number; readonly isNewest: boolean }): void;
  /** Called when all marks of a plan stand on the canvas. */
  onMarks?(planSerial: number): void;
}

/** Draws over the canvas from now on; call what is returned to end it. */
export function mountCanvas(host: EditorHost, session: Session, watch: CanvasWatch = {}): () => void {
  const { element } = host.overlay;
  const fabric = createFabric(element);
  const threads = threadView(element, new Worker(new URL(PAINTER, import.meta.url), { type: "module" }));
  threads.onFrame = (frame) => watch.onFrame?.(frame);
  const surface = createSurface(host, session);
  const connectors = createConnectors(surface);
  const findings = createFindingMarks(surface);
  const dial = createAngleDial(surface);
  const markers = createMarkers(surface);
  const needle = createNeedle(surface);
  const marks = [connectors, findings, dial, markers];
  const layerOf = { connectors: ".connectors", points: ".markers", findings: ".findings" } as const;
  /** Of layers in the drawing. */
  const ROLES = ["stitches", "connectors", "points", "findings"] as const;

  let plan: Plan | null = null;
  let shownThread = "";

  const clock = playerClock(session, (at) => {
    showThread(session.state, at);
    needle.show(plan, at);
  });

  /** Asks the painter for what the state wants seen, where that is something new. */
  function showThread({ shown, player }: SessionState, at: number | null): void {
    const isPlayed = player.at !== null || at !== null;
    const upTo = plan === null ? null : isPlayed ? (at ?? player.at) : trackOf(plan).count;
    const stitches = shown.has("stitches") ? upTo : null;
    // What is played is seen as thread, unless only stitches are wanted.
    const sewOut = shown.has("sew-out") || (isPlayed && stitches === null) ? upTo : null;
    const wanted = `${sewOut} ${stitches} ${isPlayed}`;
    if (wanted === shownThread) return;
    shownThread = wanted;
    fabric.show(sewOut !== null);
    threads.show({ sewOut, stitches, isScrubbed: isPlayed });
  }

  function showMarks(state: SessionState): void {
    const isPlayed = state.player.at !== null;
    for (const [overlay, layer] of Object.entries(layerOf)) {
      const isShown = !isPlayed && state.shown.has(overlay as keyof typeof layerOf);
      surface.root.findOne(layer)?.node.classList.toggle("away", !isShown);
    }
    for (const mark of marks) mark.lay(state);
    // Before there is a plan, what an earlier one left in the drawing is all that can be seen.
    host.overlay.cover(plan === null ? [] : ROLES.filter((role) => isPlayed || isDrawnOver(role, state)));
    needle.show(plan, isPlayed ? (clock.place() ?? state.player.at) : null);
  }

  /** Asks the editor where things are. Before marks are changed: afterwards it would have to lay out the page anew. */
  function takeView(): void {
    if (plan === null) return;
    surface.follow(plan.userToMm);
    fabric.follow(plan.size, surface.matrix);
    threads.setView(surface.matrix, surface.width, surface.height);
  }

  function followView(): void {
    if (plan === null) return;
    takeView();
    showMarks(session.state);
  }

  function takePlan(state: SessionState): void {
    plan = state.plan;
    takeView();
    for (const mark of marks) mark.setPlan(plan);
    pointing.setTrack(plan === null ? null : trackOf(plan));
    if (plan !== null) threads.setTrack(trackOf(plan));
    showMarks(state);
  }

  function follow(state: SessionState, before: SessionState | null): void {
    if (state.plan !== (before?.plan ?? null)) {
      takePlan(state);
      requestAnimationFrame(() => watch.onMarks?.(state.planSerial));
    }
    clock.follow(state.player, plan === null ? 0 : trackOf(plan).count);
    showThread(state, clock.place());
    if (plan !== null && (state.pointed !== before?.pointed || state.plan !== before?.plan))
      threads.show({ emphasis: stitchesOfTarget(trackOf(plan), state.pointed) });
    // A new plan has shown its marks already.
    if (plan !== (before?.plan ?? null)) return;
    if (plan === null || (before !== null && !isMarksChange(state, before))) {
      if (state.player.at !== null) needle.show(plan, clock.place());
      return;
    }
    showMarks(state);
  }

  const pointing = followPointer(surface);
  const stops = [
    session.subscribe(follow),
    host.overlay.onView(followView),
    () => clock.stop(),
    () => pointing.dispose(),
    () => threads.dispose(),
    () => fabric.dispose(),
    () => surface.dispose(),
  ];
  follow(session.state, null);
  return () => {
    for (const stop of stops) stop();
  };
}

/** Thread is drawn over written stitches, too. */
const isDrawnOver = (role: OverlayName, { shown }: SessionState): boolean =>
  shown.has(role) || (role === "stitches" && shown.has("sew-out"));

/** Whether marks look otherwise in this state than in the one before. */
const isMarksChange = (state: SessionState, before: SessionState): boolean =>
  state.pointed !== before.pointed ||
  state.selected !== before.selected ||
  state.shown !== before.shown ||
  (state.player.at === null) !== (before.player.at === null);

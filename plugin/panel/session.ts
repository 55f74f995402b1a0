/**
 * The session: the one state that panel and canvas share, and the actions that change it. It listens to the editor,
 * has the drawing planned when it changed, and turns what the artist does in the panel into edits of the drawing,
 * each of them one step of the editor's undo.
 */
import type { Point } from "../../core/geometry/types.ts";
import type { Plan } from "../../core/plan/types.ts";
import type { MoveVerdict } from "../../core/sequence/legal-moves.ts";
import type { Settings } from "../../core/settings.ts";
import { cascadeSettings, type SettingsSource } from "../../core/settings-cascade.ts";
import type { AttributeEdit, EditorHost, PanelOptions, SaveResult } from "../editor-host.ts";
import { OVERLAYS, type PlayerState, type Target } from "../session-types.ts";
import { texts } from "../texts.ts";
import { JobFailed, type PlannerClient } from "../worker/client.ts";
import { unpackPlan } from "../worker/pack.ts";
import type { LeftOut, PlanJob, Planned, Problem, Request } from "../worker/protocol.ts";
import {
  bendEdits,
  elementsOf,
  type Known,
  membersOf,
  newStrandName,
  overrideEdits,
  pinEdits,
  releaseOrderEdits,
  settingEdit,
} from "./edits.ts";
import { saveFile } from "./save-file.ts";
import { snapperFor } from "./snap.ts";
import type { PanelSession, PanelState } from "./state.ts";
import { piecesOfElements, piecesOfTarget, placeOfTarget } from "./targets.ts";

/** The artist's own changes are planned after a pause of so long: a drag sends many. */
const PAUSE_MS = 150;
/** Reasons and suggestions are worked out when nothing has happened for so long. */
const IDLE_MS = 800;

const NO_SHAPES = snapperFor({ shapes: [], coordinates: new Float32Array(0) });

export function createSession(
  host: EditorHost,
  client: PlannerClient,
  options: Pick<PanelOptions, "given" | "threads" | "openDemo">,
): PanelSession {
  let state: PanelState = {
    plan: null,
    planSerial: 0,
    explanation: null,
    planning: null,
    problem: null,
    pointed: null,
    selected: [],
    shown: new Set(OVERLAYS.filter((name) => name !== "sew-out" && name !== "stitches")),
    player: { isPlaying: false, at: null, stitchesPerSecond: 400 },
    selectedElements: host.selection(),
    facts: null,
    threadUse: [],
    settings: settingsWithout(options.given, {}),
    inherited: settingsWithout(options.given, {}),
    isExplaining: false,
    isStopped: false,
    notice: null,
    fileName: host.fileName(),
  };
  const listeners = new Set<(state: PanelState, before: PanelState) => void>();
  let snapper = NO_SHAPES;
  let newest: PlanJob | null = null;
  let pause: ReturnType<typeof setTimeout> | undefined;
  let idle: ReturnType<typeof setTimeout> | undefined;

  function update(change: Partial<PanelState>): void {
    const before = state;
    state = { ...state, ...change };
    for (const listener of [...listeners]) listener(state, before);
  }

  // Planning

  const jobNow = (): PlanJob => ({
    svgText: host.read(),
    name: host.fileName() ?? texts.untitled,
    given: options.given,
    ...(options.threads === undefined ? {} : { threads: options.threads }),
  });

  /** `isOwn`: after a change of the panel's, whose notice stays; any other has made it out of date. */
  function replan(isOwn = false): void {
    clearTimeout(pause);
    clearTimeout(idle);
    const job = jobNow();
    if (newest !== null && job.svgText === newest.svgText && job.name === newest.name) return;
    newest = job;
    client.giveUpExplaining();
    update({ planning: { share: 0 }, fileName: host.fileName(), isExplaining: false, isStopped: false });
    if (!isOwn && state.notice?.canUndo) update({ notice: null });
    client
      .plan(job, (share) => {
        if (newest === job) update({ planning: { share } });
      })
      .then(
        (planned) => newest === job && (planned === null ? stopped() : show(planned)),
        (error) => newest === job && fail(error),
      );
  }

  function show(planned: Planned): void {
    const plan = unpackPlan(planned.plan);
    snapper = snapperFor(planned.shapes);
    update({
      plan,
      planSerial: state.planSerial + 1,
      explanation: null,
      planning: null,
      problem: null,
      facts: planned.drawing,
      threadUse: planned.threadUse,
      settings: plan.settings,
      inherited: settingsWithout(options.given, planned.drawing.settings),
      selected: piecesOfElements(plan, planned.drawing, state.selectedElements),
      pointed: stillThere(state.pointed, plan),
      player: keptPlace(state.player, plan),
    });
  }

  /** Asked to stop, it shows the plan that it had; the next change plans again. */
  function stopped(): void {
    newest = null;
    update({ planning: null, isStopped: true });
  }

  function fail(error: unknown): void {
    update({ plan: null, planning: null, explanation: null, selected: [], problem: problemOf(error) });
  }

  function explain(): void {
    const job = newest;
    if (job === null || state.plan === null || state.explanation !== null || state.isExplaining) return;
    update({ isExplaining: true });
    idle = setTimeout(() => {
      client.explain(job).then(
        (explanation) => newest === job && update({ explanation, isExplaining: false }),
        () => newest === job && update({ isExplaining: false }),
      );
    }, IDLE_MS);
  }

  const planSoon = (): void => {
    clearTimeout(pause);
    pause = setTimeout(() => replan(), PAUSE_MS);
  };

  // Changes

  const known = (): Known | null =>
    state.plan === null || state.facts === null
      ? null
      : { facts: state.facts, pieces: state.plan.pieces, userToMm: state.plan.userToMm };

  function change(label: string, edits: readonly AttributeEdit[]): void {
    if (edits.length === 0) return;
    host.change(label, edits);
    update({ notice: { kind: "done", text: label, canUndo: true } });
    replan(true);
  }

  /** The same where layers in the drawing say otherwise: they are written anew without that, in one step. */
  async function changeWithLayers(
    label: string,
    edits: readonly AttributeEdit[],
    without: LeftOut,
  ): Promise<void> {
    const answer = await asked({ kind: "layers", drawing: jobNow(), edits, without });
    if (answer !== null) replace(label, answer.svgText);
  }

  function replace(label: string, svgText: string): void {
    host.replace(label, svgText);
    update({ notice: { kind: "done", text: label, canUndo: true } });
    replan(true);
  }

  /** The answer, or `null` where there is none: then the notice says why. */
  async function asked<R extends Exclude<Request, { kind: "plan" | "explain" }>>(request: R) {
    try {
      return await client.ask(request);
    } catch (error) {
      trouble(problemOf(error));
      return null;
    }
  }

  const trouble = ({ message, remedy }: Problem): void =>
    update({ notice: { kind: "trouble", text: message, remedy } });

  function setPin(piece: string, point: "entry" | "exit", at: Point | null): void {
    const drawing = known();
    if (drawing === null) return;
    const label = at === null ? texts.steps.release(piece, point) : texts.steps.pin(piece, point);
    const edits = pinEdits(drawing, piece, point, at);
    const members = new Set([piece, ...membersOf(drawing, piece)]);
    const drawn = drawing.facts.marks.pins.filter(
      (pin) => pin.by !== "element" && pin.point === point && members.has(pin.piece),
    );
    if (drawn.length === 0) change(label, edits);
    else void changeWithLayers(label, edits, { pins: drawn });
  }

  async function judgeMove(pieces: readonly string[], after: string | null): Promise<MoveVerdict | null> {
    const job = newest;
    if (job === null || state.plan === null) return null;
    const verdict = await asked({ kind: "judge", drawing: job, pieces, after });
    return newest === job ? verdict : null;
  }

  function refuseMove(pieces: readonly string[], { wrong, nearest }: MoveVerdict): void {
    const text = texts.order.refused(wrong);
    const place = nearest?.after;
    const stays = place === undefined || placeBefore(pieces) === place;
    if (stays) update({ notice: { kind: "question", text, remedy: texts.order.noNearer } });
    else {
      const action = { label: texts.order.nearest(place), run: () => session.move(pieces, place) };
      update({ notice: { kind: "question", text, action } });
    }
  }

  /** The piece before the first of these in needle order. */
  function placeBefore(pieces: readonly string[]): string | null {
    const order = state.plan?.pieces.map(({ id }) => id) ?? [];
    const at = order.findIndex((id) => pieces.includes(id));
    return at > 0 ? order[at - 1] : null;
  }

  async function saved(result: Promise<SaveResult>): Promise<void> {
    const done = await result;
    switch (done.kind) {
      case "saved":
        update({ fileName: done.fileName, notice: { kind: "done", text: texts.save.saved(done.fileName) } });
        return;
      case "failed":
        trouble(done);
        return;
      case "cancelled":
        return;
      default: {
        const text = done.kind === "exists" ? texts.save.exists : texts.save.changedOnDisk;
        const overwrite = { label: texts.save.overwrite, run: () => void saved(done.overwrite()) };
        update({ notice: { kind: "question", text: text(done.fileName), action: overwrite } });
      }
    }
  }

  const unsubscribe = [
    host.onChange(planSoon),
    host.onSelection((elements) =>
      update({
        selectedElements: elements,
        selected:
          state.plan === null || state.facts === null
            ? []
            : piecesOfElements(state.plan, state.facts, elements),
      }),
    ),
  ];
  const session: PanelSession = {
    get state() {
      return state;
    },
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },

    point(target) {
      if (!isSameTarget(target, state.pointed)) update({ pointed: target });
    },
    choose(target) {
      if (state.plan === null || state.facts === null) return;
      const pieces = piecesOfTarget(state.plan, target);
      if (pieces.length > 0)
        host.select(elementsOf({ facts: state.facts, pieces: state.plan.pieces }, pieces));
      const box = placeOfTarget(state.plan, target);
      if (box !== null) host.overlay.reveal(box);
      update({ pointed: target });
    },
    show(overlay, isShown) {
      const shown = new Set(state.shown);
      if (isShown) shown.add(overlay);
      else shown.delete(overlay);
      update({ shown });
    },
    play(change) {
      update({ player: { ...state.player, ...change } });
    },

    pin: (piece, point, at) => setPin(piece, point, at),
    release: (piece, point) => setPin(piece, point, null),
    bend(id, through) {
      const drawing = known();
      const connector = state.plan?.connectors.find((one) => one.id === id);
      if (drawing === null || connector === undefined) return;
      const { from, to } = connector;
      const label = through.length > 0 ? texts.steps.bend(from, to) : texts.steps.unbend(from, to);
      const edits = bendEdits(drawing, from, to, through);
      const drawn = drawing.facts.marks.bends.filter(
        (bend) => bend.by !== "element" && bend.to === to && bend.from.includes(from),
      );
      if (drawn.length === 0) change(label, edits);
      else void changeWithLayers(label, edits, { bends: [{ from, to }] });
    },
    setAngle(pieces, angleDeg) {
      const drawing = known();
      if (drawing === null) return;
      const label = texts.steps.override("angle", angleDeg, pieces);
      change(label, overrideEdits(elementsOf(drawing, pieces), "angle", angleDeg));
    },
    nearestLegal: (piece, _point, at) => snapper.nearest(piece, at),
    isTucked: (piece, at) => snapper.isTucked(piece, at),

    judgeMove,
    move(pieces, after) {
      void judgeMove(pieces, after).then((verdict) => {
        if (verdict === null) return;
        if (verdict.isLegal) change(texts.steps.move(pieces, after), verdict.edits);
        else refuseMove(pieces, verdict);
      });
    },
    releaseOrder(pieces) {
      const drawing = known();
      if (drawing !== null) change(texts.steps.releaseOrder(pieces), releaseOrderEdits(drawing, pieces));
    },
    selectPieces(pieces) {
      const drawing = known();
      if (drawing !== null) host.select(elementsOf(drawing, pieces));
    },
    setOverride(elements, name, value) {
      change(texts.steps.override(name, value, elements), overrideEdits(elements, name, value));
    },
    makeStrand(pieces) {
      const drawing = known();
      if (drawing === null) return;
      const name = newStrandName(drawing.facts);
      const edits = overrideEdits(elementsOf(drawing, pieces), "strand", name);
      change(texts.steps.makeStrand(pieces.length), edits);
    },
    undoStrand(pieces) {
      const drawing = known();
      if (drawing === null) return;
      change(texts.steps.undoStrand, overrideEdits(elementsOf(drawing, pieces), "strand", null));
    },

    setSettings(values) {
      if (state.facts === null) return;
      change(texts.steps.settings(Object.keys(values)), [settingEdit(state.facts, values)]);
    },
    apply(wish) {
      if (wish.kind === "order") session.move([wish.piece], wish.after);
      if (wish.kind === "setting") session.setSettings({ [wish.name]: wish.value });
    },

    async writeLayers() {
      const answer = await asked({ kind: "layers", drawing: jobNow() });
      if (answer !== null) replace(texts.steps.writeLayers, answer.svgText);
    },
    async takeLayersAway() {
      const answer = await asked({ kind: "strip", svgText: host.read() });
      if (answer !== null) replace(texts.steps.takeLayersAway, answer.svgText);
    },
    async download(name) {
      const file = await asked({ kind: "output", name, drawing: jobNow() });
      if (file === null) return;
      saveFile(file);
      update({ notice: { kind: "done", text: texts.outputs.downloaded(file.fileName) } });
    },
    save: () => void saved(host.save()),
    saveAs: (fileName) => void saved(host.saveAs(fileName)),
    undo() {
      update({ notice: null });
      host.undo();
    },
    redo() {
      update({ notice: null });
      host.redo();
    },
    openDemo: options.openDemo === undefined ? null : () => void options.openDemo?.(),

    explain,
    cancelPlanning: () => client.cancelPlan(),
    planNow: () => replan(),
    dismissNotice: () => update({ notice: null }),
    end() {
      clearTimeout(pause);
      clearTimeout(idle);
      for (const stop of unsubscribe) stop();
      client.end();
    },
  };
  replan();
  return session;
}

/** The player stands still at a new plan, as near to where it was as that goes. */
const keptPlace = (player: PlayerState, { metrics }: Plan): PlayerState => ({
  ...player,
  isPlaying: false,
  at: player.at === null ? null : Math.min(player.at, metrics.stitches),
});

/** What settings hold beside the drawing's own: what is given, and what the drawing's recipe says. */
const settingsWithout = (
  given: SettingsSource["values"],
  { recipe }: SettingsSource["values"],
): Settings => ({
  ...cascadeSettings([{ origin: "given", values: recipe === undefined ? given : { ...given, recipe } }])
    .settings,
  recipe: cascadeSettings([{ origin: "given", values: given }]).settings.recipe,
});

function problemOf(error: unknown): Problem {
  if (error instanceof JobFailed) return error.problem;
  const message = error instanceof Error ? error.message : String(error);
  return { message: texts.problems.unexpected(message), remedy: texts.problems.unexpectedRemedy };
}

const isSameTarget = (a: Target | null, b: Target | null): boolean =>
  a === b || JSON.stringify(a) === JSON.stringify(b);

/** What was pointed at, if the new plan still has it. */
function stillThere(target: Target | null, plan: Plan): Target | null {
  if (target === null) return null;
  if (target.kind === "piece") return plan.pieces.some(({ id }) => id === target.id) ? target : null;
  if (target.kind === "marker") return plan.pieces.some(({ id }) => id === target.piece) ? target : null;
  return null;
}

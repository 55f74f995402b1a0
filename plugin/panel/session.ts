/**
 * The session: the one state that panel and canvas share, and the actions that change it. It listens to the editor,
 * has the drawing planned when it changed, and turns what the artist does in the panel into edits of the drawing,
 * each of them one step of the editor's undo.
 */
import type { Point } from "../../core/geometry/types.ts";
import type { MoveVerdict } from "../../core/sequence/legal-moves.ts";
import type { AttributeEdit, EditorHost, PanelOptions } from "../editor-host.ts";
import { OVERLAYS, type Target } from "../session-types.ts";
import { texts } from "../texts.ts";
import type { PlannerClient } from "../worker/client.ts";
import type { LeftOut, Problem, Request } from "../worker/protocol.ts";
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
import { createPlanLoop, problemOf, settingsWithout } from "./plan-loop.ts";
import { saveFile } from "./save-file.ts";
import { tellSaved } from "./saving.ts";
import type { PanelSession } from "./state.ts";
import { createStore } from "./store.ts";
import { piecesOfElements, piecesOfTarget, placeOfTarget } from "./targets.ts";

export function createSession(
  host: EditorHost,
  client: PlannerClient,
  options: Pick<PanelOptions, "given" | "threads" | "openDemo">,
): PanelSession {
  const store = createStore({
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
  });
  const loop = createPlanLoop(store, host, client, options);
  const { update } = store;

  const known = (): Known | null =>
    store.state.plan === null || store.state.facts === null
      ? null
      : { facts: store.state.facts, pieces: store.state.plan.pieces, userToMm: store.state.plan.userToMm };

  function change(label: string, edits: readonly AttributeEdit[]): void {
    if (edits.length === 0) return;
    host.change(label, edits);
    update({ notice: { kind: "done", text: label, canUndo: true } });
    loop.replan(true);
  }

  /** The same where layers in the drawing say otherwise: they are written anew without that, in one step. */
  async function changeWithLayers(
    label: string,
    edits: readonly AttributeEdit[],
    without: LeftOut,
  ): Promise<void> {
    const answer = await asked({ kind: "layers", drawing: loop.jobNow(), edits, without });
    if (answer !== null) replace(label, answer.svgText);
  }

  function replace(label: string, svgText: string): void {
    host.replace(label, svgText);
    update({ notice: { kind: "done", text: label, canUndo: true } });
    loop.replan(true);
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
    const job = loop.newest;
    if (job === null || store.state.plan === null) return null;
    const verdict = await asked({ kind: "judge", drawing: job, pieces, after });
    return loop.newest === job ? verdict : null;
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
    const order = store.state.plan?.pieces.map(({ id }) => id) ?? [];
    const at = order.findIndex((id) => pieces.includes(id));
    return at > 0 ? order[at - 1] : null;
  }

  const unsubscribe = [
    host.onChange(loop.planSoon),
    host.onSelection((elements) =>
      update({
        selectedElements: elements,
        selected:
          store.state.plan === null || store.state.facts === null
            ? []
            : piecesOfElements(store.state.plan, store.state.facts, elements),
      }),
    ),
  ];
  const session: PanelSession = {
    get state() {
      return store.state;
    },
    subscribe: store.subscribe,

    point(target) {
      if (!isSameTarget(target, store.state.pointed)) update({ pointed: target });
    },
    choose(target) {
      if (store.state.plan === null || store.state.facts === null) return;
      const pieces = piecesOfTarget(store.state.plan, target);
      if (pieces.length > 0)
        host.select(elementsOf({ facts: store.state.facts, pieces: store.state.plan.pieces }, pieces));
      const box = placeOfTarget(store.state.plan, target);
      if (box !== null) host.overlay.reveal(box);
      update({ pointed: target });
    },
    show(overlay, isShown) {
      const shown = new Set(store.state.shown);
      if (isShown) shown.add(overlay);
      else shown.delete(overlay);
      update({ shown });
    },
    play(change) {
      update({ player: { ...store.state.player, ...change } });
    },

    pin: (piece, point, at) => setPin(piece, point, at),
    release: (piece, point) => setPin(piece, point, null),
    bend(id, through) {
      const drawing = known();
      const connector = store.state.plan?.connectors.find((one) => one.id === id);
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
    angleSet(piece) {
      const drawing = known();
      if (drawing === null) return null;
      const elements = elementsOf(drawing, [piece]);
      const drawn = drawing.facts.pieces.filter(({ element }) => elements.includes(element));
      return drawn.find(({ overrides }) => overrides.angleDeg !== undefined)?.overrides.angleDeg ?? null;
    },
    nearestLegal: (piece, _point, at) => loop.snapper.nearest(piece, at),
    isTucked: (piece, at) => loop.snapper.isTucked(piece, at),

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
      if (store.state.facts === null) return;
      change(texts.steps.settings(Object.keys(values)), [settingEdit(store.state.facts, values)]);
    },
    apply(wish) {
      if (wish.kind === "order") session.move([wish.piece], wish.after);
      if (wish.kind === "setting") session.setSettings({ [wish.name]: wish.value });
    },

    async writeLayers() {
      const answer = await asked({ kind: "layers", drawing: loop.jobNow() });
      if (answer !== null) replace(texts.steps.writeLayers, answer.svgText);
    },
    async takeLayersAway() {
      const answer = await asked({ kind: "strip", svgText: host.read() });
      if (answer !== null) replace(texts.steps.takeLayersAway, answer.svgText);
    },
    async download(name) {
      const file = await asked({ kind: "output", name, drawing: loop.jobNow() });
      if (file === null) return;
      saveFile(file);
      update({ notice: { kind: "done", text: texts.outputs.downloaded(file.fileName) } });
    },
    save: () => void tellSaved(store, host.save()),
    saveAs: (fileName) => void tellSaved(store, host.saveAs(fileName)),
    undo() {
      update({ notice: null });
      host.undo();
    },
    redo() {
      update({ notice: null });
      host.redo();
    },
    openDemo: options.openDemo === undefined ? null : () => void options.openDemo?.(),

    explain: loop.explain,
    cancelPlanning: () => client.cancelPlan(),
    planNow: () => loop.replan(),
    dismissNotice: () => update({ notice: null }),
    end() {
      loop.end();
      for (const stop of unsubscribe) stop();
      client.end();
    },
  };
  loop.replan();
  return session;
}

const isSameTarget = (a: Target | null, b: Target | null): boolean =>
  a === b || JSON.stringify(a) === JSON.stringify(b);

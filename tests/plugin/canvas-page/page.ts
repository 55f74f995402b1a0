/**
 * A page with nothing but a drawing and the canvas over it: a host as small as can be and a session that only keeps
 * state. Tests and measurements of the canvas run on it, without any editor.
 */
import { IDENTITY, invert, multiply } from "../../../core/artwork/matrix.ts";
import type { Matrix, Point } from "../../../core/geometry/types.ts";
import { makePlan } from "../../../core/plan/make-plan.ts";
import type { Plan } from "../../../core/plan/types.ts";
import { DEFAULT_SETTINGS } from "../../../core/settings.ts";
import { type CanvasWatch, mountCanvas } from "../../../plugin/canvas/main.ts";
import type { EditorHost } from "../../../plugin/editor-host.ts";
import type { Session, SessionState } from "../../../plugin/session-types.ts";

/** What was asked of the session, in the order in which it was asked. */
type Asked = readonly [action: string, ...words: readonly unknown[]];

interface Page {
  readonly asked: Asked[];
  readonly state: () => SessionState;
  readonly holds: boolean[];
  /** Plans the drawing and shows it; the plan's figures. */
  open(svgText: string, settings?: Partial<typeof DEFAULT_SETTINGS>): Plan;
  update(change: Partial<SessionState>): void;
  /** From user units to CSS pixels. */
  see(view: Matrix): void;
  watch: CanvasWatch;
}

const area = document.createElement("div");
const drawing = document.createElement("div");
const overlay = document.createElement("div");
for (const part of [area, drawing, overlay])
  Object.assign(part.style, { position: "absolute", inset: "0", overflow: "hidden" });
overlay.style.pointerEvents = "none";
drawing.style.transformOrigin = "0 0";
document.body.append(area);
area.append(drawing, overlay);

let view: Matrix = IDENTITY;
const viewListeners = new Set<() => void>();
const holds: boolean[] = [];
const host: EditorHost = {
  read: () => drawing.innerHTML,
  fileName: () => null,
  open: async () => {},
  replace: () => {},
  change: () => {},
  undo: () => {},
  redo: () => {},
  selection: () => [],
  select: () => {},
  onChange: () => () => {},
  onSelection: () => () => {},
  save: async () => ({ kind: "cancelled" }),
  saveAs: async () => ({ kind: "cancelled" }),
  overlay: {
    element: overlay,
    view: () => view,
    onView: (listener) => {
      viewListeners.add(listener);
      return () => viewListeners.delete(listener);
    },
    reveal: () => {},
    cover: () => {},
    hold: (isHeld) => void holds.push(isHeld),
  },
};

let state: SessionState = {
  plan: null,
  planSerial: 0,
  explanation: null,
  planning: null,
  problem: null,
  pointed: null,
  selected: [],
  shown: new Set(["connectors", "points", "findings"]),
  player: { isPlaying: false, at: null, stitchesPerSecond: 400 },
};
const asked: Asked[] = [];
const listeners = new Set<(state: SessionState, before: SessionState) => void>();
const update = (change: Partial<SessionState>): void => {
  const before = state;
  state = { ...state, ...change };
  for (const listener of listeners) listener(state, before);
};
const note =
  (action: string) =>
  (...words: unknown[]): void =>
    void asked.push([action, ...words]);

const session: Session = {
  get state() {
    return state;
  },
  subscribe: (listener) => {
    listeners.add(listener);
    return () => listeners.delete(listener);
  },
  point: (pointed) => update({ pointed }),
  choose: note("choose"),
  show: note("show"),
  play: (change) => update({ player: { ...state.player, ...change } }),
  pin: note("pin"),
  release: note("release"),
  bend: note("bend"),
  setAngle: note("setAngle"),
  // What an element says of itself.
  angleSet: (piece) => {
    const set = drawing.querySelector(`[id="${piece}"]`)?.getAttribute("data-tuck-angle");
    return set == null ? null : Number(set);
  },
  // Places are legal on whole millimetres, and tucked on the right half of the plane beyond 20 mm.
  nearestLegal: (_piece, _point, [x, y]): Point => [Math.round(x), Math.round(y)],
  isTucked: (_piece, [x]) => x > 20,
};

const page: Page = {
  asked,
  holds,
  state: () => state,
  watch: {},
  open(svgText, settings = {}) {
    const plan = makePlan(svgText, "drawing.svg", { ...DEFAULT_SETTINGS, ...settings });
    drawing.innerHTML = svgText;
    // One pixel of the drawing to a millimetre, before the view.
    const svg = drawing.querySelector("svg");
    svg?.setAttribute("width", String(plan.size.widthMm));
    svg?.setAttribute("height", String(plan.size.heightMm));
    update({ plan, planSerial: state.planSerial + 1 });
    page.see(view);
    return plan;
  },
  update,
  see(next) {
    view = next;
    const toMm = state.plan?.userToMm ?? IDENTITY;
    drawing.style.transform = `matrix(${multiply(next, invert(toMm)).join(",")})`;
    for (const listener of viewListeners) listener();
  },
};
Object.assign(globalThis, { page });
mountCanvas(host, session, {
  onFrame: (frame) => page.watch.onFrame?.(frame),
  onMarks: (serial) => page.watch.onMarks?.(serial),
});

/**
 * The dial: on the one fill that is selected, a ring with a line across it that runs as the rows do. It is turned
 * by either end of the line, or with the arrow keys; Delete lets the plan decide again. While the plan does, the
 * line is dashed, and the words below say so.
 */
import type { G } from "@svgdotjs/svg.js";
import { boxOf } from "../../core/geometry/point.ts";
import type { Point } from "../../core/geometry/types.ts";
import type { Plan } from "../../core/plan/types.ts";
import type { SessionState } from "../session-types.ts";
import { startDrag } from "./drag.ts";
import { trackOf } from "./needle-track.ts";
import { rowAngle } from "./row-angle.ts";
import type { Surface } from "./surface.ts";
import { canvasTexts } from "./texts.ts";

const RADIUS_PX = 46;
const KNOB_PX = 7;
/** With Shift the dial stops at each of these. */
const COARSE_DEG = 15;
/** Keys that follow each other within this time are one change. */
const KEYS_PAUSE_MS = 400;

interface Dialled {
  readonly piece: string;
  readonly at: Point;
  readonly plannedDeg: number;
  /** Whether somebody asked for that angle. */
  readonly isSet: boolean;
}

export interface AngleDial {
  setPlan(plan: Plan | null): void;
  lay(state: SessionState): void;
}

export function createAngleDial(surface: Surface): AngleDial {
  const { session } = surface;
  const group = surface.root.group().addClass("dial away");
  const turning = group.group();
  const label = group.element("text").attr({ x: 0, y: RADIUS_PX + 16 });
  drawDial(group, turning);
  const knobs = turning.find(".hit");
  group.attr({ role: "slider", tabindex: 0, "aria-valuemin": 0, "aria-valuemax": 179 });

  let plan: Plan | null = null;
  let dialled: Dialled | null = null;
  /** Where it was turned to and not yet set. */
  let turnedDeg: number | null = null;
  let keysPause: ReturnType<typeof setTimeout> | undefined;

  function show(): void {
    group.node.classList.toggle("away", dialled === null);
    if (dialled === null) return;
    const angleDeg = turnedDeg ?? dialled.plannedDeg;
    const isByPlan = turnedDeg === null && !dialled.isSet;
    const words = isByPlan ? canvasTexts.degreesByPlan(angleDeg) : canvasTexts.degrees(angleDeg);
    group.node.classList.toggle("by-plan", isByPlan);
    const [x, y] = surface.toPx(dialled.at);
    group.attr({
      transform: `translate(${x.toFixed(2)} ${y.toFixed(2)})`,
      "aria-label": canvasTexts.angle(dialled.piece),
      "aria-valuenow": angleDeg,
      "aria-valuetext": words,
    });
    turning.attr("transform", `rotate(${-angleDeg})`);
    label.node.textContent = words;
  }

  function turnTo(angleDeg: number): void {
    turnedDeg = ((Math.round(angleDeg) % 180) + 180) % 180;
    show();
  }

  function set(): void {
    clearTimeout(keysPause);
    if (dialled === null || turnedDeg === null) return;
    // It stays where it was turned to until the new plan comes.
    session.setAngle([dialled.piece], turnedDeg);
  }

  function giveUp(): void {
    clearTimeout(keysPause);
    turnedDeg = null;
    show();
  }

  for (const knob of knobs)
    knob.node.addEventListener("pointerdown", (event) =>
      startDrag(surface, event as PointerEvent, {
        move: ([x, y], { shiftKey }) => {
          if (dialled === null) return;
          const [cx, cy] = surface.toPx(dialled.at);
          const angleDeg = (Math.atan2(cy - y, x - cx) * 180) / Math.PI;
          turnTo(shiftKey ? Math.round(angleDeg / COARSE_DEG) * COARSE_DEG : angleDeg);
        },
        drop: set,
        giveUp,
        click: () => group.node.focus(),
      }),
    );
  group.node.addEventListener("keydown", (event) => {
    if (dialled === null) return;
    const by = turnByKey(event);
    if (by !== null) {
      turnTo((turnedDeg ?? dialled.plannedDeg) + by);
      clearTimeout(keysPause);
      keysPause = setTimeout(set, KEYS_PAUSE_MS);
    } else if (event.key === "Enter") set();
    else if (event.key === "Escape" && turnedDeg !== null) giveUp();
    else if (event.key === "Delete" || event.key === "Backspace") session.setAngle([dialled.piece], null);
    else return;
    event.preventDefault();
    event.stopPropagation();
  });

  return {
    setPlan(newPlan) {
      plan = newPlan;
      turnedDeg = null;
    },
    lay({ selected, player }) {
      const isOne = selected.length === 1 && player.at === null;
      const piece = isOne ? plan?.pieces.find(({ id }) => id === selected[0]) : undefined;
      if (plan === null || piece === undefined || piece.technique !== "fill") dialled = null;
      else if (dialled?.piece !== piece.id || turnedDeg === null) {
        const angle = rowAngle(trackOf(plan), piece.id);
        const at = middleOfCover(plan, piece.id);
        const isSet = session.angleSet(piece.id) !== null;
        dialled = angle === null || at === null ? null : { piece: piece.id, at, plannedDeg: angle, isSet };
        turnedDeg = null;
      }
      show();
    },
  };
}

function drawDial(group: G, turning: G): void {
  for (const look of ["halo", "ink"] as const) {
    group
      .circle(2 * RADIUS_PX)
      .center(0, 0)
      .addClass(look)
      .attr("stroke-width", look === "halo" ? 4.5 : 1.4)
      .back();
    turning
      .line(-RADIUS_PX, 0, RADIUS_PX, 0)
      .addClass(`${look} row`)
      .attr("stroke-width", look === "halo" ? 5 : 2);
  }
  group.find(".halo").forEach((halo) => void halo.back());
  for (const x of [-RADIUS_PX, RADIUS_PX]) {
    turning
      .circle(2 * KNOB_PX)
      .center(x, 0)
      .addClass("pale");
    turning
      .circle(2 * KNOB_PX + 10)
      .center(x, 0)
      .addClass("hit");
  }
  group
    .circle(2 * RADIUS_PX + 24)
    .center(0, 0)
    .addClass("ring-halo")
    .back();
  group
    .circle(2 * RADIUS_PX + 24)
    .center(0, 0)
    .addClass("ring");
}

/** As for any slider: arrow keys by one, Page keys by more. */
function turnByKey({ key, shiftKey }: KeyboardEvent): number | null {
  const by = shiftKey ? COARSE_DEG : 1;
  if (key === "ArrowRight" || key === "ArrowUp") return by;
  if (key === "ArrowLeft" || key === "ArrowDown") return -by;
  if (key === "PageUp") return COARSE_DEG;
  if (key === "PageDown") return -COARSE_DEG;
  return null;
}

/** The middle of the box around a piece's cover. */
function middleOfCover(plan: Plan, piece: string): Point | null {
  const { spans, ends } = trackOf(plan);
  const points: Point[] = [];
  for (const span of spans) {
    if (span.piece !== piece || span.role !== "cover") continue;
    for (let k = 4 * span.first; k < 4 * span.end; k += 4) points.push([ends[k], ends[k + 1]]);
  }
  if (points.length === 0) return null;
  const { minX, minY, maxX, maxY } = boxOf(points);
  return [(minX + maxX) / 2, (minY + maxY) / 2];
}

/** A drag with the pointer, from press to release: the editor keeps still meanwhile, and Escape gives up. */
import type { Point } from "../../core/geometry/types.ts";
import type { Surface } from "./surface.ts";

/** A press that moves less than this is a click. */
const CLICK_PX = 3;

export interface DragSteps {
  /** First, once the pointer has moved far enough not to be a click. */
  begin?(): void;
  /** In CSS pixels of the overlay. */
  move(to: Point, event: PointerEvent): void;
  drop(): void;
  giveUp(): void;
  /** In place of all that, where it was but a click. */
  click?(): void;
}

/** Follows the pointer that was pressed with `event` until it is let go. */
export function startDrag(surface: Surface, event: PointerEvent, steps: DragSteps): void {
  if (event.button !== 0) return;
  event.preventDefault();
  event.stopPropagation();
  const { overlay } = surface.host;
  const from = surface.pointer(event);
  let isMoving = false;
  overlay.hold(true);
  surface.root.addClass("held");

  const moved = (now: PointerEvent): void => {
    now.preventDefault();
    now.stopPropagation();
    const to = surface.pointer(now);
    if (!isMoving && Math.hypot(to[0] - from[0], to[1] - from[1]) < CLICK_PX) return;
    if (!isMoving) steps.begin?.();
    isMoving = true;
    steps.move(to, now);
  };
  const end = (finish: (() => void) | undefined): void => {
    window.removeEventListener("pointermove", moved, true);
    window.removeEventListener("pointerup", released, true);
    window.removeEventListener("pointercancel", cancelled, true);
    window.removeEventListener("keydown", pressed, true);
    surface.root.removeClass("held");
    overlay.hold(false);
    finish?.();
  };
  const released = (now: PointerEvent): void => {
    now.stopPropagation();
    end(isMoving ? () => steps.drop() : () => steps.click?.());
  };
  const cancelled = (): void => end(isMoving ? () => steps.giveUp() : undefined);
  const pressed = (key: KeyboardEvent): void => {
    if (key.key !== "Escape") return;
    key.preventDefault();
    key.stopPropagation();
    cancelled();
  };
  // On the window, before anything of the editor's: the pointer may leave the mark that it drags.
  window.addEventListener("pointermove", moved, true);
  window.addEventListener("pointerup", released, true);
  window.addEventListener("pointercancel", cancelled, true);
  window.addEventListener("keydown", pressed, true);
}

/** How far an arrow key goes, in millimetres, and where to; `null` for other keys. With Shift it goes further. */
export function arrowStep(event: KeyboardEvent): Point | null {
  const by = event.shiftKey ? 5 : 1;
  switch (event.key) {
    case "ArrowLeft":
      return [-by, 0];
    case "ArrowRight":
      return [by, 0];
    case "ArrowUp":
      return [0, -by];
    case "ArrowDown":
      return [0, by];
    default:
      return null;
  }
}

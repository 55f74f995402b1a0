/** Pointing at pieces: what lies under the pointer, wherever on the canvas it goes, without taking the editor's events. */
import type { NeedleTrack } from "./needle-track.ts";
import type { Surface } from "./surface.ts";
import { pieceFinder } from "./under-pointer.ts";

export interface Pointing {
  setTrack(track: NeedleTrack | null): void;
  dispose(): void;
}

export function followPointer(surface: Surface): Pointing {
  const { session, host, root } = surface;
  const area = host.overlay.element;
  let track: NeedleTrack | null = null;
  let find: ReturnType<typeof pieceFinder> | null = null;
  let frame = 0;
  let last: PointerEvent | null = null;
  /** Pointed at by the canvas; what the panel points at is left alone. */
  let pointedId: string | undefined;

  const isOverCanvas = ({ clientX, clientY, target }: PointerEvent): boolean => {
    const { left, top, right, bottom } = area.getBoundingClientRect();
    return (
      clientX >= left &&
      clientX < right &&
      clientY >= top &&
      clientY < bottom &&
      target instanceof Element &&
      isBeside(area, target)
    );
  };

  const look = (): void => {
    frame = 0;
    if (last === null || track === null) return;
    // Marks tell for themselves that they are pointed at.
    if (last.target instanceof Node && root.node.contains(last.target)) {
      pointedId = undefined;
      return;
    }
    find ??= pieceFinder(track);
    const id =
      isOverCanvas(last) && last.buttons === 0 ? find(surface.toMm(surface.pointer(last))) : undefined;
    if (id === pointedId) return;
    pointedId = id;
    session.point(id === undefined ? null : { kind: "piece", id });
  };
  const moved = (event: PointerEvent): void => {
    last = event;
    frame ||= requestAnimationFrame(look);
  };
  window.addEventListener("pointermove", moved, { passive: true });
  return {
    setTrack(newTrack) {
      track = newTrack;
      find = null;
    },
    dispose() {
      cancelAnimationFrame(frame);
      window.removeEventListener("pointermove", moved);
    },
  };
}

/** How many elements an editor may put around the overlay within its canvas. */
const LEVELS = 2;

/** Whether an element lies where the overlay lies, rather than in a dialog or a menu above it. */
function isBeside(area: Element, target: Element): boolean {
  let around = area.parentElement;
  for (let level = 0; level < LEVELS && around !== null && around !== document.body; level++) {
    if (around.contains(target)) return true;
    around = around.parentElement;
  }
  return false;
}

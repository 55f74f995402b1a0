/**
 * Markers on the canvas: an open chevron that points into the piece where it is entered, a short bar where it is
 * left, each with its sewing number; a pinned one is stuck with a pin's head and its number underlined. They are
 * dragged, with the pointer or by arrow keys, to where the artist wants a piece entered or left.
 *
 * Hundreds of markers would hide each other and the drawing. Those shown keep apart: what is in hand or selected
 * first, then pins, then in sewing order; the others appear as the artist zooms in.
 */
import type { G } from "@svgdotjs/svg.js";
import type { Point } from "../../core/geometry/types.ts";
import type { Plan } from "../../core/plan/types.ts";
import type { SessionState } from "../session-types.ts";
import { declutter } from "./declutter.ts";
import { arrowStep, startDrag } from "./drag.ts";
import { CHEVRON_PX, HALF_SPAN_PX, NUMBER_AWAY_PX, PIN_RADIUS_PX } from "./look.ts";
import { type MarkerPlace, markerPlaces } from "./marker-places.ts";
import { rove } from "./roving.ts";
import { stepAlong } from "./step-along.ts";
import type { Surface } from "./surface.ts";
import { canvasTexts } from "./texts.ts";

const HIT_RADIUS_PX = 10;
const RING_RADIUS_PX = 12;
/** Markers of one kind, and numbers, nearer than this would run into each other. */
const APART_PX = 13;
const NUMBERS_APART_PX = 19;

const CHEVRON = `M${-CHEVRON_PX} ${-HALF_SPAN_PX}L0 0L${-CHEVRON_PX} ${HALF_SPAN_PX}`;
const BAR = `M0 ${-HALF_SPAN_PX}L0 ${HALF_SPAN_PX}`;

interface Marker {
  place: MarkerPlace;
  /** What its looks and words were last made for. */
  described: MarkerPlace | null;
  /** Where it stands on the screen, as the transform says it. */
  transform: string;
  readonly group: G;
  /** What turns with the stitch. */
  readonly shape: G;
  readonly number: G;
}

export interface Markers {
  setPlan(plan: Plan | null): void;
  /** After zoom, pan, and changes of what is selected or pointed at. */
  lay(state: SessionState): void;
}

export function createMarkers(surface: Surface): Markers {
  const { session } = surface;
  const layer = surface.layer("markers", canvasTexts.markers);
  const markers = new Map<string, Marker>();
  const lift = createLift(surface, layer);
  rove(layer.node, ".marker");

  return {
    setPlan(plan) {
      const places = plan === null ? [] : markerPlaces(plan);
      const kept = new Set<string>();
      for (const place of places) {
        const name = nameOf(place);
        kept.add(name);
        const marker = markers.get(name) ?? makeMarker(place);
        markers.set(name, marker);
        describe(marker, place);
      }
      for (const [name, { group }] of markers) {
        if (kept.has(name)) continue;
        group.remove();
        markers.delete(name);
      }
    },
    lay(state) {
      const selected = new Set(state.selected);
      const pointed = state.pointed;
      const isPointed = ({ piece, point }: MarkerPlace): boolean =>
        pointed?.kind === "marker" && pointed.piece === piece && pointed.point === point;
      const rank = ({ place, group }: Marker): number => {
        if (isPointed(place) || isStop(group)) return 0;
        if (selected.has(place.piece)) return 1;
        return place.isPinned ? 2 : 3;
      };
      const ranked = [...markers.values()]
        .map((marker) => ({ marker, rank: rank(marker), px: surface.toPx(marker.place.at) }))
        .sort((a, b) => a.rank - b.rank || a.marker.place.order - b.marker.place.order);
      const placesOf = (point: "entry" | "exit"): (Point | null)[] =>
        ranked.map(({ marker, px }) => (marker.place.point === point && surface.isInView(px) ? px : null));
      const entries = declutter(placesOf("entry"), APART_PX);
      const exits = declutter(placesOf("exit"), APART_PX);
      const numbered = declutter(
        ranked.map(({ marker, px: [x, y] }, k) =>
          entries[k] || exits[k] ? [x, y + numberShift(marker.place)] : null,
        ),
        NUMBERS_APART_PX,
      );
      ranked.forEach(({ marker, px, rank }, k) => {
        if (lift.holds(marker)) return;
        // What the Tab key goes to is never hidden, or it could not have the focus.
        const isShown = entries[k] || exits[k] || isStop(marker.group);
        marker.group.node.classList.toggle("away", !isShown);
        if (!isShown) return;
        stand(marker, px);
        marker.number.node.classList.toggle("away", !numbered[k]);
        marker.group.node.classList.toggle("pointed", isPointed(marker.place));
        const { node } = marker.group;
        if (rank <= 1 && node !== document.activeElement && node.nextSibling !== null) marker.group.front();
      });
    },
  };

  function makeMarker(place: MarkerPlace): Marker {
    const group = layer.group().addClass("marker").attr({ role: "button", tabindex: -1 });
    group
      .circle(2 * RING_RADIUS_PX)
      .center(0, 0)
      .addClass("ring-halo");
    group
      .circle(2 * RING_RADIUS_PX)
      .center(0, 0)
      .addClass("ring");
    const shape = group.group();
    const isEntry = place.point === "entry";
    shape
      .circle(2 * HIT_RADIUS_PX)
      .center(isEntry ? -CHEVRON_PX / 2 : 0, 0)
      .addClass("hit");
    for (const [look, width] of [
      ["halo", 5.5],
      ["ink", 2.2],
    ] as const)
      shape
        .path(isEntry ? CHEVRON : BAR)
        .addClass(look)
        .attr("stroke-width", width);
    shape
      .circle(2 * PIN_RADIUS_PX)
      .center(0, 0)
      .addClass("solid");
    const number = group.group();
    number.element("text").attr({ x: 0, y: isEntry ? -NUMBER_AWAY_PX : NUMBER_AWAY_PX });
    const marker: Marker = { place, described: null, transform: "", group, shape, number };
    listen(marker);
    return marker;
  }

  /** Puts a place's looks and words on its marker; most places of a new plan are those of the one before. */
  function describe(marker: Marker, place: MarkerPlace): void {
    const { group, shape, number, described } = marker;
    marker.place = place;
    marker.described = place;
    if (described !== null && isSamePlace(described, place)) return;
    const { piece, point, order, isPinned } = place;
    group.attr({
      "aria-label": canvasTexts.marker(point, order, piece, isPinned),
      "aria-description": canvasTexts.markerHelp,
      "data-piece": piece,
      "data-point": point,
      "data-stop": 2 * order + (point === "entry" ? 0 : 1),
    });
    group.node.classList.toggle("pinned", isPinned);
    shape.findOne(".solid")?.node.classList.toggle("away", !isPinned);
    shape.attr("transform", `rotate(${place.turnDeg.toFixed(1)})`);
    const text = number.node.firstElementChild;
    if (text !== null) text.textContent = String(order);
  }

  function listen(marker: Marker): void {
    const { group } = marker;
    const target = () => ({ kind: "marker", piece: marker.place.piece, point: marker.place.point }) as const;
    group.node.addEventListener("pointerenter", () => session.point(target()));
    group.node.addEventListener("pointerleave", () => session.point(null));
    group.node.addEventListener("focus", () => {
      if (!surface.isInView(surface.toPx(marker.place.at))) session.choose(target());
      else session.point(target());
    });
    group.node.addEventListener("blur", () => {
      lift.giveUp();
      session.point(null);
    });
    group.node.addEventListener("pointerdown", (event) =>
      startDrag(surface, event, {
        begin: () => lift.begin(marker),
        move: (to) => lift.moveTo(surface.toMm(to), to),
        drop: () => lift.drop(),
        giveUp: () => lift.giveUp(),
        click: () => {
          group.node.focus();
          session.choose(target());
        },
      }),
    );
    group.node.addEventListener("dblclick", (event) => {
      event.stopPropagation();
      release(marker);
    });
    group.node.addEventListener("keydown", (event) => {
      const step = arrowStep(event);
      if (step !== null) lift.step(marker, step);
      else if (event.key === "Enter") lift.drop();
      else if (event.key === "Escape" && lift.isUp()) lift.giveUp();
      else if (event.key === "Delete" || event.key === "Backspace") release(marker);
      else return;
      event.preventDefault();
      event.stopPropagation();
    });
  }

  function release({ place }: Marker): void {
    lift.giveUp();
    if (!place.isPinned) return;
    session.release(place.piece, place.point);
    surface.tell(canvasTexts.released);
  }
}

const isStop = (group: G): boolean => group.node.getAttribute("tabindex") === "0";

/** The same but for where it is, which is laid out every time. */
const isSamePlace = (a: MarkerPlace, b: MarkerPlace): boolean =>
  a.order === b.order && a.isPinned === b.isPinned && a.turnDeg === b.turnDeg;

function stand(marker: Marker, [x, y]: Point): void {
  const transform = `translate(${x.toFixed(2)} ${y.toFixed(2)})`;
  if (transform === marker.transform) return;
  marker.transform = transform;
  marker.group.node.setAttribute("transform", transform);
}

const nameOf = ({ piece, point }: MarkerPlace): string => `${point} ${piece}`;

const numberShift = ({ point }: MarkerPlace): number =>
  point === "entry" ? -NUMBER_AWAY_PX : NUMBER_AWAY_PX;

/** A marker that was lifted off its place: it goes along with the pointer or the keys until it is dropped. */
function createLift(surface: Surface, layer: G) {
  const { session } = surface;
  const ghost = layer.group().addClass("ghost away");
  const leash = ghost.line(0, 0, 0, 0).addClass("ink preview").attr("stroke-width", 1.2);
  const spotHalo = ghost.circle(22).addClass("halo").attr("stroke-width", 5);
  const spot = ghost.circle(22).addClass("ink spot").attr("stroke-width", 2);
  const label = ghost.text("");
  let lifted: { readonly marker: Marker; at: Point } | null = null;

  function showAt(wanted: Point): void {
    if (lifted === null) return;
    const { marker } = lifted;
    const { piece } = marker.place;
    const [x, y] = surface.toPx(lifted.at);
    const isTucked = session.isTucked(piece, lifted.at);
    stand(marker, [x, y]);
    ghost.node.classList.remove("away");
    leash.plot(wanted[0], wanted[1], x, y);
    // A closed ring is hidden later; an open, dashed one stays in sight.
    spotHalo.center(x, y);
    spot.center(x, y).attr("stroke-dasharray", isTucked ? null : "3 4");
    const text = isTucked ? canvasTexts.willBeTucked : canvasTexts.willShow;
    if (label.node.textContent !== text) label.node.textContent = text;
    label.attr({ x, y: y + 2 * NUMBER_AWAY_PX });
  }

  function putDown(): Marker | null {
    const marker = lifted?.marker ?? null;
    lifted = null;
    ghost.node.classList.add("away");
    return marker;
  }

  function putBack(marker: Marker): void {
    stand(marker, surface.toPx(marker.place.at));
  }

  return {
    isUp: () => lifted !== null,
    holds: (marker: Marker) => lifted?.marker === marker,
    begin(marker: Marker): void {
      lifted = { marker, at: marker.place.at };
    },
    /** `to` in millimetres, `px` where the pointer is. */
    moveTo(to: Point, px: Point): void {
      if (lifted === null) return;
      const { piece, point } = lifted.marker.place;
      lifted.at = session.nearestLegal(piece, point, to);
      showAt(px);
    },
    step(marker: Marker, step: Point): void {
      lifted ??= { marker, at: marker.place.at };
      const { piece, point } = marker.place;
      lifted.at = stepAlong(lifted.at, step, (at) => session.nearestLegal(piece, point, at));
      showAt(surface.toPx(lifted.at));
      surface.tell(canvasTexts.moved(session.isTucked(piece, lifted.at), ...lifted.at));
    },
    drop(): void {
      const at = lifted?.at;
      const marker = putDown();
      if (marker === null || at === undefined) return;
      session.pin(marker.place.piece, marker.place.point, at);
      surface.tell(canvasTexts.dropped);
    },
    giveUp(): void {
      const marker = putDown();
      if (marker === null) return;
      putBack(marker);
      surface.tell(canvasTexts.givenUp);
    },
  };
}

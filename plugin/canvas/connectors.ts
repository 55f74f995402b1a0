/**
 * Connectors on the canvas: solid where tucked, long dashes along a seam, dashed where the thread hops, dotted
 * where the machine jumps. One that is sewn can be taken hold of anywhere and led another way; the points that it
 * is led through then are small squares, to be moved or taken away.
 */
import type { G, Path, Rect } from "@svgdotjs/svg.js";
import type { Point, Polyline } from "../../core/geometry/types.ts";
import type { Plan } from "../../core/plan/types.ts";
import type { Connector } from "../../core/routing/types.ts";
import type { SessionState } from "../session-types.ts";
import { bendPlace, middleOf } from "./bend-points.ts";
import { arrowStep, startDrag } from "./drag.ts";
import { rove } from "./roving.ts";
import type { Surface } from "./surface.ts";
import { canvasTexts } from "./texts.ts";

const HANDLE_PX = 8;

interface Drawn {
  readonly connector: Connector;
  readonly group: G;
  readonly handles: readonly { readonly at: Point; readonly mark: Rect }[];
}

export interface Connectors {
  setPlan(plan: Plan | null): void;
  lay(state: SessionState): void;
}

export function createConnectors(surface: Surface): Connectors {
  const { session } = surface;
  const layer = surface.layer("connectors", canvasTexts.connectors);
  // Lines are in millimetres and go with the view as a whole; their strokes are as wide as the screen has them.
  const lines = layer.group();
  const points = layer.group();
  const bending = createBending(surface, layer);
  let drawn: Drawn[] = [];
  rove(lines.node, ".connector");

  return {
    setPlan(plan) {
      const focused = document.activeElement?.getAttribute("data-connector") ?? null;
      lines.clear();
      points.clear();
      drawn = (plan?.connectors ?? []).map(draw);
      const again = drawn.find(({ connector }) => connector.id === focused);
      (again?.group.node as SVGElement | undefined)?.focus();
    },
    lay({ pointed }) {
      lines.attr("transform", `matrix(${surface.matrix.join(" ")})`);
      const pointedId = pointed?.kind === "connector" ? pointed.id : null;
      for (const { connector, group, handles } of drawn) {
        group.node.classList.toggle("pointed", connector.id === pointedId);
        for (const { at, mark } of handles) mark.center(...(surface.toPx(at) as [number, number]));
      }
      bending.lay();
    },
  };

  function draw(connector: Connector, k: number): Drawn {
    const { id, from, to, kind } = connector;
    const group = lines
      .group()
      .addClass(`connector ${kind}`)
      .attr({
        role: "button",
        tabindex: -1,
        "aria-label": canvasTexts.connector(from, to, kind),
        "aria-description": kind === "jump" ? null : canvasTexts.connectorHelp,
        "data-connector": id,
        "data-stop": k,
      });
    const d = pathOf(connector.points);
    for (const look of ["halo", "ink", "hit-line"]) group.path(d).addClass(`${look} line`);
    const through = throughOf(connector);
    const handles = through.map((at, place) => ({ at, mark: handle(connector, place) }));
    listen(connector, group);
    return { connector, group, handles };
  }

  function listen(connector: Connector, group: G): void {
    const { node } = group;
    const target = { kind: "connector", id: connector.id } as const;
    const through = throughOf(connector);
    node.addEventListener("pointerenter", () => session.point(target));
    node.addEventListener("pointerleave", () => session.point(null));
    node.addEventListener("focus", () => session.point(target));
    node.addEventListener("blur", () => {
      bending.giveUp();
      session.point(null);
    });
    node.addEventListener("pointerdown", (event) => {
      const at = surface.toMm(surface.pointer(event));
      const place = bendPlace(connector.points, through, at);
      startDrag(surface, event, {
        ...(connector.kind === "jump"
          ? STILL
          : bending.drag(connector, through.toSpliced(place, 0, at), place)),
        click: () => {
          node.focus();
          session.choose(target);
        },
      });
    });
    node.addEventListener("keydown", (event) => {
      if (connector.kind === "jump") return;
      const step = arrowStep(event);
      if (event.key === "Enter" && !bending.isBending()) {
        const middle = middleOf(connector.points);
        const place = bendPlace(connector.points, through, middle);
        bending.begin(connector, through.toSpliced(place, 0, middle), place);
      } else if (event.key === "Enter") bending.drop();
      else if (event.key === "Escape" && bending.isBending()) bending.giveUp();
      else if (event.key === "Delete" && through.length > 0) session.bend(connector.id, []);
      else if (step !== null && bending.isBending()) bending.step(step);
      else return;
      event.preventDefault();
      event.stopPropagation();
    });
  }

  function handle(connector: Connector, place: number): Rect {
    const through = throughOf(connector);
    const mark = points.rect(HANDLE_PX, HANDLE_PX).addClass("pale handle");
    mark.attr({
      role: "button",
      tabindex: 0,
      "aria-label": canvasTexts.bendPoint(place + 1, connector.from, connector.to),
      "aria-description": canvasTexts.connectorHelp,
    });
    const { node } = mark;
    const take = (): void => session.bend(connector.id, through.toSpliced(place, 1));
    node.addEventListener("pointerenter", () => session.point({ kind: "connector", id: connector.id }));
    node.addEventListener("pointerleave", () => session.point(null));
    node.addEventListener("blur", () => bending.giveUp());
    node.addEventListener("pointerdown", (event) =>
      startDrag(surface, event, bending.drag(connector, through, place)),
    );
    node.addEventListener("dblclick", (event) => {
      event.stopPropagation();
      take();
    });
    node.addEventListener("keydown", (event) => {
      const step = arrowStep(event);
      if (step !== null) {
        if (!bending.isBending()) bending.begin(connector, through, place);
        bending.step(step);
      } else if (event.key === "Enter") bending.drop();
      else if (event.key === "Escape" && bending.isBending()) bending.giveUp();
      else if (event.key === "Delete" || event.key === "Backspace") take();
      else return;
      event.preventDefault();
      event.stopPropagation();
    });
    return mark;
  }
}

/** Of what cannot be dragged. */
const STILL = { move: () => {}, drop: () => {}, giveUp: () => {} };

const throughOf = ({ bend }: Connector): Polyline => bend?.through ?? [];

const pathOf = (line: Polyline): string =>
  `M${line.map(([x, y]) => `${x.toFixed(3)} ${y.toFixed(3)}`).join("L")}`;

/** A connector in hand: one point that it is led through goes along with the pointer or the keys. */
function createBending(surface: Surface, layer: G) {
  const group = layer.group().addClass("away");
  const preview: Path = group.path("").addClass("ink preview").attr("stroke-width", 2);
  const mark = group.rect(HANDLE_PX + 2, HANDLE_PX + 2).addClass("solid");
  let bent: { readonly connector: Connector; through: Polyline; readonly place: number } | null = null;

  function lay(): void {
    group.node.classList.toggle("away", bent === null);
    if (bent === null) return;
    const { connector, through, place } = bent;
    const ends = [connector.points[0], ...through, connector.points[connector.points.length - 1]];
    preview.plot(pathOf(ends.map(surface.toPx)));
    mark.center(...(surface.toPx(through[place]) as [number, number]));
  }

  const bending = {
    lay,
    isBending: () => bent !== null,
    begin(connector: Connector, through: Polyline, place: number): void {
      bent = { connector, through, place };
      lay();
    },
    moveTo(at: Point): void {
      if (bent === null) return;
      bent.through = bent.through.with(bent.place, at);
      lay();
    },
    step([dx, dy]: Point): void {
      if (bent === null) return;
      const [x, y] = bent.through[bent.place];
      bending.moveTo([x + dx, y + dy]);
    },
    drop(): void {
      const done = bent;
      bent = null;
      lay();
      if (done === null) return;
      surface.session.bend(done.connector.id, done.through);
      surface.tell(canvasTexts.dropped);
    },
    giveUp(): void {
      if (bent === null) return;
      bent = null;
      lay();
      surface.tell(canvasTexts.givenUp);
    },
    drag: (connector: Connector, through: Polyline, place: number) => ({
      begin: () => bending.begin(connector, through, place),
      move: (to: Point) => bending.moveTo(surface.toMm(to)),
      drop: () => bending.drop(),
      giveUp: () => bending.giveUp(),
    }),
  };
  return bending;
}

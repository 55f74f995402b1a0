/**
 * Findings on the canvas: a ring on a leader at each place, with a sign of its severity: a dot, a bar, a cross.
 * Findings at places that lie close together on the screen share a ring, which tells how many they are.
 */
import type { G } from "@svgdotjs/svg.js";
import type { Finding, Severity } from "../../core/findings.ts";
import type { Point } from "../../core/geometry/types.ts";
import type { Plan } from "../../core/plan/types.ts";
import type { SessionState } from "../session-types.ts";
import { rove } from "./roving.ts";
import type { Surface } from "./surface.ts";
import { canvasTexts } from "./texts.ts";

const RADIUS_PX = 8;
/** Where the ring stands, seen from its place. */
const AWAY_PX: Point = [15, -15];
const TOGETHER_PX = 18;

const SIGNS: Readonly<Record<Severity, string>> = {
  info: "M0 0L0.01 0",
  warning: "M0 -4L0 4",
  error: "M-3 -3L3 3M-3 3L3 -3",
};
const RANK: Readonly<Record<Severity, number>> = { error: 0, warning: 1, info: 2 };

/** Findings by their place among the plan's. */
interface Placed {
  readonly index: number;
  readonly finding: Finding;
  readonly at: Point;
}

export interface FindingMarks {
  setPlan(plan: Plan | null): void;
  lay(state: SessionState): void;
}

export function createFindingMarks(surface: Surface): FindingMarks {
  const { session } = surface;
  const layer = surface.layer("findings", canvasTexts.findings);
  let placed: Placed[] = [];
  let shown = new Map<string, { readonly group: G; readonly indices: readonly number[] }>();
  rove(layer.node, ".finding");

  return {
    setPlan(plan) {
      placed = (plan?.findings ?? [])
        .flatMap((finding, index) => (finding.at === undefined ? [] : [{ index, finding, at: finding.at }]))
        .sort((a, b) => RANK[a.finding.severity] - RANK[b.finding.severity] || a.index - b.index);
      layer.clear();
      shown = new Map();
    },
    lay({ pointed }) {
      const before = shown;
      shown = new Map();
      for (const together of gather(placed, surface)) {
        const name = together.map(({ index }) => index).join(" ");
        const mark = before.get(name) ?? draw(together);
        before.delete(name);
        shown.set(name, mark);
        const [x, y] = surface.toPx(together[0].at);
        mark.group.attr("transform", `translate(${x.toFixed(2)} ${y.toFixed(2)})`);
        const isPointed = pointed?.kind === "finding" && mark.indices.includes(pointed.index);
        mark.group.node.classList.toggle("pointed", isPointed);
      }
      for (const { group } of before.values()) group.remove();
    },
  };

  function draw(together: readonly Placed[]): { group: G; indices: readonly number[] } {
    const [{ finding, index }] = together;
    const group = layer.group().addClass("finding");
    group.attr({
      role: "button",
      tabindex: -1,
      "aria-label": canvasTexts.finding(
        canvasTexts.severity[finding.severity],
        finding.message,
        together.length - 1,
      ),
      "data-stop": index,
      "data-code": finding.code,
    });
    const [x, y] = AWAY_PX;
    const reach = 1 - RADIUS_PX / Math.hypot(x, y);
    const leader = `M0 0L${x * reach} ${y * reach}`;
    group.path(leader).addClass("halo").attr("stroke-width", 4.5);
    group.path(leader).addClass("ink").attr("stroke-width", 1.6);
    group
      .circle(2 * RADIUS_PX + 9)
      .center(x, y)
      .addClass("ring-halo");
    group
      .circle(2 * RADIUS_PX + 9)
      .center(x, y)
      .addClass("ring");
    group
      .circle(2 * RADIUS_PX)
      .center(x, y)
      .addClass("pale");
    group
      .path(SIGNS[finding.severity])
      .addClass("ink")
      .attr({ transform: `translate(${x} ${y})`, "stroke-width": finding.severity === "info" ? 3.5 : 2 });
    group
      .circle(2 * RADIUS_PX + 8)
      .center(x, y)
      .addClass("hit");
    if (together.length > 1)
      group
        .element("text")
        .attr({ x: x + 16, y })
        .words(String(together.length));
    const target = { kind: "finding", index } as const;
    group.node.addEventListener("pointerenter", () => session.point(target));
    group.node.addEventListener("pointerleave", () => session.point(null));
    group.node.addEventListener("focus", () => session.point(target));
    group.node.addEventListener("blur", () => session.point(null));
    group.node.addEventListener("pointerdown", (event) => event.stopPropagation());
    group.node.addEventListener("click", () => session.choose(target));
    group.node.addEventListener("keydown", (event) => {
      if (event.key !== "Enter" && event.key !== " ") return;
      event.preventDefault();
      event.stopPropagation();
      session.choose(target);
    });
    return { group, indices: together.map(({ index }) => index) };
  }
}

/** Those in view, in groups that lie close together; the gravest of each group comes first. */
function gather(placed: readonly Placed[], surface: Surface): Placed[][] {
  const groups: { readonly at: Point; readonly members: Placed[] }[] = [];
  for (const one of placed) {
    const px = surface.toPx(one.at);
    if (!surface.isInView(px)) continue;
    const near = groups.find(
      ({ at }) => Math.abs(at[0] - px[0]) < TOGETHER_PX && Math.abs(at[1] - px[1]) < TOGETHER_PX,
    );
    if (near === undefined) groups.push({ at: px, members: [one] });
    else near.members.push(one);
  }
  return groups.map(({ members }) => members);
}

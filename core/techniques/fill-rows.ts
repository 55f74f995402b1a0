/**
 * Where the rows of a fill lie, and how the region joins them. Everything here is in the rows' own frame: rows
 * are horizontal, row k at `firstY + k · pitch`.
 *
 * - A `Span` is one row's stretch inside the region. A row has one for each crossing of the region.
 * - A strip is what lies between two neighbouring rows (or beyond the first or last). Swept from vertex to
 *   vertex it falls into trapezoids; trapezoids that touch make up its connected parts.
 * - A `Link` joins a span to one of the next row: they overlap, and the same part of the strip touches both.
 * - A `Ledge` is a stretch of outline that runs nearly along a row, but further from it than the row's thread
 *   reaches, with no other row beyond. A line along it, as far inside as a row's thread is wide, makes a crisp edge.
 * - A `Sliver` is what of a strip's part no span stands above or below: a neck from one span to another that is
 *   too thin for any row, or a tip beyond the end of a span. It is one line along the strip, since a strip is no
 *   higher than a row.
 *
 * Because a strip's parts are exact, spans, links and slivers hang together wherever the region does. The
 * trapezoid sweep is that of the boustrophedon cellular decomposition: H. Choset and P. Pignon, «Coverage path
 * planning: the boustrophedon cellular decomposition», 1997; here cells are cut at every row as well.
 */
import { append } from "../append.ts";
import type { Point, Ring } from "../geometry/types.ts";
import { corners } from "./fill-path.ts";

export interface Span {
  readonly id: number;
  readonly row: number;
  readonly y: number;
  readonly left: number;
  readonly right: number;
  /** The ends as sewn: moved outwards against the pull of the stitches. */
  readonly sewnLeft: number;
  readonly sewnRight: number;
  /** Left to right, those above the row and those below it. */
  readonly ledges: readonly Ledge[];
}

/** A line to sew beside a row. */
export interface Ledge {
  readonly side: "above" | "below";
  /** From left to right. */
  readonly line: readonly Point[];
}

/** Indices of two overlapping spans, of one row and the next. */
export interface Link {
  readonly above: number;
  readonly below: number;
}

export interface SliverEnd {
  readonly span: number;
  readonly side: "left" | "right";
}

/** Its line begins on the end of one span and, if it is a neck, ends on the end of another. */
export interface Sliver {
  readonly line: readonly Point[];
  readonly from: SliverEnd;
  readonly to: SliverEnd | null;
}

export interface Rows {
  readonly firstY: number;
  readonly pitch: number;
  readonly count: number;
  readonly spans: readonly Span[];
  /** Row k holds the spans from `rowStart[k]` up to, not including, `rowStart[k + 1]`; left to right. */
  readonly rowStart: readonly number[];
  readonly links: readonly Link[];
  readonly slivers: readonly Sliver[];
}

/**
 * Vertices are moved to this grid across the rows, and rows lie between its lines, so that no row passes through
 * a vertex and no slab is too thin to divide by. A nanometre changes no stitch.
 */
const GRID_MM = 1e-6;

/** A tip that reaches less than this beyond a span is under the thread at the span's end: 0.2 mm of it, and the pull. */
const TIP_REACH_MM = 0.6;

/** Tips thinner than this on the average are drawing errors: the flattening tolerance. */
const TIP_THICKNESS_MM = 0.05;

/** The line of a sliver has no point nearer than this to the end of the row that it leaves. */
const NEAR_END_MM = 0.6;

/** How far inside the outline an edge is sewn: half the thread's width. */
const EDGE_INSET_MM = 0.2;

/** What lies further from a row than this is bare: the row's own half thread, and what no eye sees of it. */
const BARE_MM = 0.25;

/** The thread at a row's end reaches this far beyond the region: the pull compensation and its own roundness. */
const END_REACH_MM = 0.3;

/** A shorter ledge is hidden by the steps from row to row. */
const LEAST_LEDGE_MM = 0.6;

/** A row at an edge is moved in by no more than this: so much nearer may it come to the row before it. */
const MOST_MOVED_MM = 0.12;

/** Ledges follow the outline at steps of this, straightened by no more than the tolerance. */
const LEDGE_STEP_MM = 0.25;
const LEDGE_TOLERANCE_MM = 0.04;

/** Slivers follow the middle of what they cover at steps of this. */
const SLIVER_STEP_MM = 1;

/** Rows further apart than this are open: fabric is to show between them, and at the edges. */
const OPEN_MM = 0.8;

/** Of its height, a region is drawn in by no more than this share at either end. */
const MOST_PUSHED = 0.01;

interface Edge {
  readonly top: number;
  readonly bottom: number;
  readonly topX: number;
  readonly slope: number;
}

/** Part of the region between two levels: its corners' x at the upper and the lower level. */
interface Trapezoid {
  readonly topY: number;
  readonly bottomY: number;
  readonly topLeft: number;
  readonly topRight: number;
  readonly bottomLeft: number;
  readonly bottomRight: number;
}

/** The trapezoids between two levels, left to right. */
type Slab = readonly Trapezoid[];

/** Fewer rows than this are shared out over the region's own height. */
const LEAST_ROWS = 3;

/**
 * Rows of a region given by its rings (outer and holes) in the rows' frame. The height, less the push allowance at
 * either end, is shared out evenly: `round(height / spacing)` rows, at least one, each in the middle of its share.
 *
 * @param over rings of the region whose height is shared out, where it is another; rows go on beyond it as within
 */
export function layRows(
  rings: readonly Ring[],
  spacingMm: number,
  pullMm: number,
  pushMm = 0,
  over?: readonly Ring[],
): Rows {
  const snapped = snap(rings);
  const ys = ysOf(snapped);
  const own = heightOf(ys, pushMm);
  // What has hardly a row would have none where the others leave it out.
  const isLow = own.bottom - own.top < LEAST_ROWS * spacingMm;
  const whole = over === undefined || isLow ? own : heightOf(ysOf(snap(over)), pushMm);
  const shares = Math.max(1, Math.round((whole.bottom - whole.top) / spacingMm));
  const pitch = (whole.bottom - whole.top) / shares;
  // Rows whose middle lies in the region; a push of half a row and more keeps none off that the others have.
  const slack = pitch > 0 ? Math.min(own.push / pitch, 0.49) : 0;
  const first = pitch > 0 ? Math.ceil((own.top - whole.top) / pitch - slack - 0.5) : 0;
  const end = pitch > 0 ? Math.floor((own.bottom - whole.top) / pitch + slack + 0.5) : 1;
  const count = Math.max(1, end - first);
  const rowYs = Array.from(
    { length: count },
    (_, k) => (Math.floor((whole.top + (first + k + 0.5) * pitch) / GRID_MM) + 0.5) * GRID_MM,
  );
  const { push } = own;
  const slabs = sweep(edgesOf(snapped), levelsOf(ys, rowYs));
  return { firstY: rowYs[0], pitch, count, ...joinStrips(slabs, rowYs, pitch, pullMm, push) };
}

const snap = (rings: readonly Ring[]): Ring[] =>
  rings.map((ring) => ring.map(([x, y]): Point => [x, Math.round(y / GRID_MM) * GRID_MM]));

const ysOf = (rings: readonly Ring[]): number[] => rings.flatMap((ring) => ring.map(([, y]) => y));

/** From where to where rows lie, and how far they keep off the outline there. */
function heightOf(ys: readonly number[], pushMm: number): { top: number; bottom: number; push: number } {
  let top = Number.POSITIVE_INFINITY;
  let bottom = Number.NEGATIVE_INFINITY;
  for (const y of ys) {
    if (y < top) top = y;
    if (y > bottom) bottom = y;
  }
  // Few rows push little.
  const push = Math.min(pushMm, (bottom - top) * MOST_PUSHED);
  return { top: top + push, bottom: bottom - push, push };
}

function edgesOf(rings: readonly Ring[]): Edge[] {
  const edges: Edge[] = [];
  for (const ring of rings) {
    let [px, py] = ring[ring.length - 1];
    for (const [x, y] of ring) {
      if (y > py) edges.push({ top: py, bottom: y, topX: px, slope: (x - px) / (y - py) });
      else if (y < py) edges.push({ top: y, bottom: py, topX: x, slope: (px - x) / (py - y) });
      px = x;
      py = y;
    }
  }
  return edges.sort((a, b) => a.top - b.top);
}

/** All heights at which the shape of a slab may change, and the rows; ascending, each once. */
function levelsOf(ys: readonly number[], rowYs: readonly number[]): number[] {
  const sorted = Float64Array.from([...ys, ...rowYs]).sort();
  const levels: number[] = [];
  for (const y of sorted) if (y !== levels[levels.length - 1]) levels.push(y);
  return levels;
}

function sweep(edges: readonly Edge[], levels: readonly number[]): Slab[] {
  const slabs: Slab[] = [];
  let active: Edge[] = [];
  let next = 0;
  for (let i = 0; i + 1 < levels.length; i++) {
    const topY = levels[i];
    const bottomY = levels[i + 1];
    const middleY = (topY + bottomY) / 2;
    active = active.filter((edge) => edge.bottom > topY);
    while (next < edges.length && edges[next].top <= topY) active.push(edges[next++]);
    sortByX(active, middleY);
    const slab: Trapezoid[] = [];
    for (let j = 0; j + 1 < active.length; j += 2) {
      const left = active[j];
      const right = active[j + 1];
      slab.push({
        topY,
        bottomY,
        topLeft: xAt(left, topY),
        topRight: xAt(right, topY),
        bottomLeft: xAt(left, bottomY),
        bottomRight: xAt(right, bottomY),
      });
    }
    slabs.push(slab);
  }
  return slabs;
}

const xAt = (edge: Edge, y: number): number => edge.topX + (y - edge.top) * edge.slope;

/** Insertion sort: from slab to slab the order hardly changes. */
function sortByX(edges: Edge[], y: number): void {
  for (let i = 1; i < edges.length; i++) {
    const edge = edges[i];
    const x = xAt(edge, y);
    let j = i - 1;
    while (j >= 0 && xAt(edges[j], y) > x) {
      edges[j + 1] = edges[j];
      j--;
    }
    edges[j + 1] = edge;
  }
}

/** A span while its edges are still being settled. */
interface LaidSpan extends Span {
  y: number;
  readonly ledges: Ledge[];
}

type Joined = Pick<Rows, "spans" | "rowStart" | "links" | "slivers">;

function joinStrips(
  slabs: readonly Slab[],
  rowYs: readonly number[],
  pitch: number,
  pullMm: number,
  pushMm: number,
): Joined {
  const spans: LaidSpan[] = [];
  const rowStart: number[] = [0];
  const links: Link[] = [];
  const slivers: Sliver[] = [];
  let above: readonly LaidSpan[] = [];
  let at = 0;
  for (let row = 0; row <= rowYs.length; row++) {
    const strip: Slab[] = [];
    const endY = row < rowYs.length ? rowYs[row] : Number.POSITIVE_INFINITY;
    while (at < slabs.length && (slabs[at].length === 0 || slabs[at][0].topY < endY)) strip.push(slabs[at++]);
    const below =
      row < rowYs.length && strip.length > 0
        ? spansOf(strip[strip.length - 1], row, rowYs[row], spans.length, pullMm)
        : [];
    append(spans, below);
    rowStart.push(spans.length);
    if (strip.length > 0) joinStrip(strip, above, below, links, slivers, pitch, pushMm);
    above = below;
  }
  rowStart.pop();
  return { spans, rowStart, links, slivers };
}

/** The spans on a row: the lower sides of the slab that ends there. */
function spansOf(slab: Slab, row: number, y: number, firstId: number, pullMm: number): LaidSpan[] {
  return slab.map(({ bottomLeft: left, bottomRight: right }, i) => {
    const gapLeft = i === 0 ? Number.POSITIVE_INFINITY : left - slab[i - 1].bottomRight;
    const gapRight = i + 1 === slab.length ? Number.POSITIVE_INFINITY : slab[i + 1].bottomLeft - right;
    const sewnLeft = left - Math.max(0, Math.min(pullMm, gapLeft / 2));
    const sewnRight = right + Math.max(0, Math.min(pullMm, gapRight / 2));
    return { id: firstId + i, row, y, left, right, sewnLeft, sewnRight, ledges: [] };
  });
}

/** Links and slivers of one strip. `above` are the spans on its upper row, `below` those on its lower. */
function joinStrip(
  strip: readonly Slab[],
  above: readonly LaidSpan[],
  below: readonly LaidSpan[],
  links: Link[],
  slivers: Sliver[],
  pitch: number,
  pushMm: number,
): void {
  const trapezoids = strip.flat();
  const partOf = connect(strip, Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY);
  const parts = new Map<number, { above: LaidSpan[]; below: LaidSpan[]; minX: number; maxX: number }>();
  trapezoids.forEach((t, i) => {
    let part = parts.get(partOf[i]);
    if (!part) {
      part = { above: [], below: [], minX: t.topLeft, maxX: t.topRight };
      parts.set(partOf[i], part);
    }
    part.minX = Math.min(part.minX, t.topLeft, t.bottomLeft);
    part.maxX = Math.max(part.maxX, t.topRight, t.bottomRight);
    if (i < above.length) part.above.push(above[i]);
    const fromEnd = trapezoids.length - below.length;
    if (i >= fromEnd) part.below.push(below[i - fromEnd]);
  });
  for (const [root, part] of parts) {
    for (const a of part.above)
      for (const b of part.below)
        if (a.left < b.right && b.left < a.right) links.push({ above: a.id, below: b.id });
    const isOpen = pitch > OPEN_MM;
    for (const a of isOpen ? [] : part.above) addLedges(strip, a, part.below, "below", pushMm);
    for (const b of isOpen ? [] : part.below) addLedges(strip, b, part.above, "above", pushMm);
    const groups = standing([...part.above, ...part.below]);
    if (groups.length === 0) continue;
    const reachLeft = groups[0].left - part.minX > TIP_REACH_MM;
    const reachRight = part.maxX - groups[groups.length - 1].right > TIP_REACH_MM;
    if (groups.length === 1 && !reachLeft && !reachRight) continue;
    let k = 0;
    const own = strip.map((slab) => slab.filter(() => partOf[k++] === root));
    if (reachLeft) sliversIn(own, null, groups[0], slivers);
    for (let i = 0; i + 1 < groups.length; i++) sliversIn(own, groups[i], groups[i + 1], slivers);
    if (reachRight) sliversIn(own, groups[groups.length - 1], null, slivers);
  }
}

/** Finds where a span stands alone in a strip, and what of the strip it leaves bare there. */
function addLedges(
  strip: readonly Slab[],
  span: LaidSpan,
  opposite: readonly Span[],
  side: Ledge["side"],
  pushMm: number,
): void {
  if (opposite.length === 0) moveIn(strip, span, side, pushMm);
  let from = span.left;
  for (const { left, right } of opposite) {
    if (right <= span.left || left >= span.right) continue;
    const to = left - END_REACH_MM;
    if (to - from >= LEAST_LEDGE_MM) ledgesBetween(strip, span, from, to, side, pushMm);
    from = Math.max(from, right + END_REACH_MM);
  }
  if (span.right - from >= LEAST_LEDGE_MM) ledgesBetween(strip, span, from, span.right, side, pushMm);
}

/** Moves a span that nothing stands beyond away from an outline that its own thread would lie across. */
function moveIn(strip: readonly Slab[], span: LaidSpan, side: Ledge["side"], pushMm: number): void {
  let deepest = 0;
  for (const at of [0.1, 0.3, 0.5, 0.7, 0.9])
    deepest = Math.max(deepest, depthAt(strip, span.left + at * (span.right - span.left), span.y, side));
  const by = Math.max(0, Math.min(EDGE_INSET_MM + pushMm - deepest, MOST_MOVED_MM));
  span.y += side === "below" ? -by : by;
}

function ledgesBetween(
  strip: readonly Slab[],
  span: LaidSpan,
  fromX: number,
  toX: number,
  side: Ledge["side"],
  pushMm: number,
): void {
  const sign = side === "below" ? 1 : -1;
  const steps = Math.ceil((toX - fromX) / LEDGE_STEP_MM);
  let line: Point[] = [];
  const close = (): void => {
    if (line.length > 1 && line[line.length - 1][0] - line[0][0] >= LEAST_LEDGE_MM)
      span.ledges.push({ side, line: corners(line, LEDGE_TOLERANCE_MM) });
    line = [];
  };
  for (let i = 0; i <= steps; i++) {
    const x = i === steps ? toX : fromX + ((toX - fromX) * i) / steps;
    const depth = depthAt(strip, x, span.y, side) - pushMm;
    if (depth > BARE_MM) line.push([sewnX(x, span), span.y + sign * (depth - EDGE_INSET_MM)]);
    else close();
  }
  close();
}

/** At the ends of its span a ledge is moved outwards as the span is. */
const sewnX = (x: number, { left, right, sewnLeft, sewnRight }: Span): number =>
  x === left ? sewnLeft : x === right ? sewnRight : x;

/** How far the region goes on from a row, above or below it, without a break. */
function depthAt(strip: readonly Slab[], x: number, y: number, side: Ledge["side"]): number {
  let depth = 0;
  for (let s = 0; s < strip.length; s++) {
    const slab = side === "below" ? strip[s] : strip[strip.length - 1 - s];
    let reached = depth;
    for (let i = firstRightOf(slab, x); i < slab.length && leftmost(slab[i]) <= x; i++) {
      const [from, to] = heightsAt(slab[i], x);
      if (from > to) continue;
      const near = side === "below" ? from - y : y - to;
      if (near <= depth + 1e-6) reached = Math.max(reached, side === "below" ? to - y : y - from);
    }
    if (reached === depth && s > 0) break;
    depth = reached;
  }
  return depth;
}

const leftmost = (t: Trapezoid): number => Math.min(t.topLeft, t.bottomLeft);
const rightmost = (t: Trapezoid): number => Math.max(t.topRight, t.bottomRight);

/** The first trapezoid of a slab that reaches as far right as x: they stand left to right. */
function firstRightOf(slab: Slab, x: number): number {
  let [low, high] = [0, slab.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rightmost(slab[middle]) < x) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Stretches of x above or below which a span stands, left to right, and the spans that bound each. */
interface Standing {
  readonly left: number;
  readonly right: number;
  readonly first: Span;
  readonly last: Span;
}

function standing(spans: readonly Span[]): Standing[] {
  const groups: Standing[] = [];
  for (const span of [...spans].sort((a, b) => a.left - b.left)) {
    const group = groups[groups.length - 1];
    if (!group || span.left >= group.right)
      groups.push({ left: span.left, right: span.right, first: span, last: span });
    else if (span.right > group.right)
      groups[groups.length - 1] = { ...group, right: span.right, last: span };
  }
  return groups;
}

/**
 * For each trapezoid of a strip (slab by slab), the number of the connected part it belongs to, seen between
 * `fromX` and `toX` only; -1 where it lies outside. Sides that touch in a point count as connected.
 */
function connect(strip: readonly Slab[], fromX: number, toX: number): Int32Array {
  const total = strip.reduce((sum, slab) => sum + slab.length, 0);
  const parent = Int32Array.from({ length: total }, (_, i) => i);
  const find = (i: number): number => {
    while (parent[i] !== i) {
      parent[i] = parent[parent[i]];
      i = parent[i];
    }
    return i;
  };
  let base = 0;
  for (let s = 0; s + 1 < strip.length; s++) {
    const upper = strip[s];
    const lower = strip[s + 1];
    const lowerBase = base + upper.length;
    let i = 0;
    let j = 0;
    while (i < upper.length && j < lower.length) {
      const left = Math.max(upper[i].bottomLeft, lower[j].topLeft, fromX);
      const right = Math.min(upper[i].bottomRight, lower[j].topRight, toX);
      if (left <= right + GRID_MM) parent[find(lowerBase + j)] = find(base + i);
      if (upper[i].bottomRight < lower[j].topRight) i++;
      else j++;
    }
    base = lowerBase;
  }
  let k = 0;
  const parts = new Int32Array(total);
  for (const slab of strip)
    for (const t of slab) {
      const inside = Math.max(t.topRight, t.bottomRight) > fromX && Math.min(t.topLeft, t.bottomLeft) < toX;
      parts[k] = inside ? find(k) : -1;
      k++;
    }
  return parts;
}

/** The slivers of a strip's part between two standing stretches, or beyond the one that is given. */
function sliversIn(
  strip: readonly Slab[],
  leftOf: Standing | null,
  rightOf: Standing | null,
  slivers: Sliver[],
): void {
  const fromX = leftOf ? leftOf.right : Number.NEGATIVE_INFINITY;
  const toX = rightOf ? rightOf.left : Number.POSITIVE_INFINITY;
  const trapezoids = strip.flat();
  const partOf = connect(strip, fromX, toX);
  for (const root of new Set(partOf)) {
    if (root < 0) continue;
    const own = trapezoids.filter((_, i) => partOf[i] === root);
    const minX = Math.max(fromX, Math.min(...own.map((t) => Math.min(t.topLeft, t.bottomLeft))));
    const maxX = Math.min(toX, Math.max(...own.map((t) => Math.max(t.topRight, t.bottomRight))));
    const { points, thickness } = middleLine(own, minX, maxX);
    const meetsLeft = leftOf !== null && minX <= fromX;
    const meetsRight = rightOf !== null && maxX >= toX;
    const leftEnd: Point | null = meetsLeft ? [leftOf.last.sewnRight, leftOf.last.y] : null;
    const rightEnd: Point | null = meetsRight ? [rightOf.first.sewnLeft, rightOf.first.y] : null;
    // A point right beside the end of a row would only make a stitch too short to sew.
    const near = (x: number, end: Point | null): boolean =>
      end !== null && Math.abs(x - end[0]) < NEAR_END_MM;
    const middle = points.filter(([x]) => !near(x, leftEnd) && !near(x, rightEnd));
    if (leftEnd && rightEnd) {
      slivers.push({
        line: [leftEnd, ...middle, rightEnd],
        from: { span: leftOf!.last.id, side: "right" },
        to: { span: rightOf!.first.id, side: "left" },
      });
    } else if (middle.length > 0 && maxX - minX > TIP_REACH_MM && thickness > TIP_THICKNESS_MM) {
      if (leftEnd)
        slivers.push({
          line: [leftEnd, ...middle],
          from: { span: leftOf!.last.id, side: "right" },
          to: null,
        });
      else if (rightEnd)
        slivers.push({
          line: [rightEnd, ...middle.reverse()],
          from: { span: rightOf!.first.id, side: "left" },
          to: null,
        });
    }
  }
}

/** Points along the middle of some trapezoids between two x, and how thick they are there on the average. */
function middleLine(
  own: readonly Trapezoid[],
  minX: number,
  maxX: number,
): { points: Point[]; thickness: number } {
  const steps = Math.max(2, Math.ceil((maxX - minX) / SLIVER_STEP_MM));
  const points: Point[] = [];
  let sum = 0;
  for (let i = 0; i < steps; i++) {
    const x = minX + ((i + 0.5) / steps) * (maxX - minX);
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (const t of own) {
      const [from, to] = heightsAt(t, x);
      if (from > to) continue;
      low = Math.min(low, from);
      high = Math.max(high, to);
    }
    if (low > high) continue;
    points.push([x, (low + high) / 2]);
    sum += high - low;
  }
  return { points, thickness: points.length === 0 ? 0 : sum / points.length };
}

/** From which to which y a trapezoid holds the given x; the first is greater where it does not. */
function heightsAt(t: Trapezoid, x: number): [number, number] {
  let from = 0;
  let to = 1;
  const cut = (atTop: number, atBottom: number): void => {
    if (atTop < 0 && atBottom < 0) to = -1;
    else if (atTop < 0) from = Math.max(from, atTop / (atTop - atBottom));
    else if (atBottom < 0) to = Math.min(to, atTop / (atTop - atBottom));
  };
  cut(x - t.topLeft, x - t.bottomLeft);
  cut(t.topRight - x, t.bottomRight - x);
  const height = t.bottomY - t.topY;
  return [t.topY + from * height, t.topY + to * height];
}

/**
 * The plan as JSON, for other programs: millimetres, x right, y down, origin at the artwork's top left corner.
 * Its schema is in plan-schema.ts. Figures are rounded to 0.001 mm, which no machine can tell from the plan.
 */
import { SAME_POINT_MM } from "../constants.ts";
import type { Finding } from "../findings.ts";
import { closeRing } from "../geometry/polyline.ts";
import type { Matrix, Point } from "../geometry/types.ts";
import { isSewn } from "../plan/steps.ts";
import type { Metrics, PlainMetrics, Plan, PlannedPiece, SewingStep, SewnRole } from "../plan/types.ts";
import type { Connector } from "../routing/types.ts";
import type { Settings } from "../settings.ts";
import type { ThreadLabel } from "../threads/types.ts";
import type { Writer } from "./writer.ts";

export const PLAN_FORMAT = "tuckline-plan";
export const PLAN_VERSION = 1;

/** The whole plan as JSON: `PLAN_SCHEMA` is its schema. */
export interface PlanDocument {
  readonly format: typeof PLAN_FORMAT;
  readonly version: typeof PLAN_VERSION;
  readonly source: Plan["source"];
  readonly settings: Settings;
  readonly size: { readonly width: number; readonly height: number };
  readonly userToMm: Matrix;
  /** Of patches: where each is cut out, as closed lines that repeat their first point. */
  readonly cutLine?: readonly (readonly Point[])[];
  readonly pieces: readonly PieceEntry[];
  readonly connectors: readonly ConnectorEntry[];
  /** The whole design in needle order: consecutive entries of one strand join end to end, exactly. */
  readonly sewing: readonly SewingEntry[];
  readonly metrics: Metrics;
  readonly findings: readonly Finding[];
}

export type PieceEntry = Omit<PlannedPiece, "entryPinned" | "exitPinned" | "entryPin" | "exitPin">;

/** `remedy` says of a jump what would remove it. */
export type ConnectorEntry = Omit<Connector, "bend">;

export type SewingEntry =
  | {
      readonly block: number;
      readonly strand: number;
      readonly role: SewnRole;
      readonly piece?: string;
      readonly connector?: string;
      readonly points: readonly Point[];
    }
  | { readonly role: "trim" }
  | { readonly role: "jump"; readonly points: readonly Point[] }
  | { readonly role: "colour-change"; readonly colour: string; readonly thread?: ThreadLabel };

/** The plan as a plain record, every field in the order that the schema has it. */
export const planJson = (plan: Plan): PlanDocument => ({
  format: PLAN_FORMAT,
  version: PLAN_VERSION,
  source: { name: plan.source.name, sha256: plan.source.sha256 },
  settings: plan.settings,
  size: {
    width: rounded(plan.size.widthMm),
    height: rounded(plan.size.heightMm),
  },
  userToMm: plan.userToMm,
  ...given(
    "cutLine",
    plan.cutLine?.map((ring) => closeRing(ring).map(roundedPoint)),
  ),
  pieces: plan.pieces.map(pieceEntry),
  connectors: plan.connectors.map(connectorEntry),
  sewing: sewingEntries(plan.sewing),
  metrics: {
    ...metricsOf(plan.metrics),
    blocksLowerBound: plan.metrics.blocksLowerBound,
    strandsLowerBound: plan.metrics.strandsLowerBound,
    untucked: metricsOf(plan.metrics.untucked),
  },
  findings: plan.findings.map(findingEntry),
});

export const jsonWriter: Writer = {
  name: "json",
  ending: "json",
  describe: "the plan as JSON",
  write: serialisePlan,
};

/** The plan as JSON text: one line for each piece, connector, sewing entry and finding, so that it can be read. */
export function serialisePlan(plan: Plan): string {
  const members = Object.entries(planJson(plan)).map(([key, value]) => {
    const isList = Array.isArray(value) && typeof value[0] === "object";
    const text = isList ? linesOf(value) : JSON.stringify(value);
    return `${JSON.stringify(key)}: ${text}`;
  });
  return `{\n${members.join(",\n")}\n}\n`;
}

const linesOf = (entries: readonly unknown[]): string =>
  `[\n${entries.map((entry) => JSON.stringify(entry)).join(",\n")}\n]`;

const pieceEntry = (piece: PlannedPiece): PieceEntry => ({
  id: piece.id,
  ...given("members", piece.members),
  element: piece.element,
  paint: piece.paint,
  technique: piece.technique,
  colour: piece.colour,
  ...given("thread", piece.thread && threadLabel(piece.thread)),
  order: piece.order,
  entry: roundedPoint(piece.entry),
  exit: roundedPoint(piece.exit),
});

const threadLabel = ({ name, code }: ThreadLabel): ThreadLabel => ({ name, code });

const connectorEntry = (connector: Connector): ConnectorEntry => ({
  id: connector.id,
  from: connector.from,
  to: connector.to,
  kind: connector.kind,
  points: connector.points.map(roundedPoint),
  tuckedMm: rounded(connector.tuckedMm),
  exposedMm: rounded(connector.exposedMm),
  ...given("blendedMm", connector.blendedMm === undefined ? undefined : rounded(connector.blendedMm)),
  marginMm: rounded(connector.marginMm),
  ...given("reason", connector.reason),
  ...given("remedy", connector.remedy),
});

const findingEntry = (finding: Finding): Finding => ({
  code: finding.code,
  severity: finding.severity,
  ...given("piece", finding.piece),
  ...given("at", finding.at && roundedPoint(finding.at)),
  message: finding.message,
  remedy: finding.remedy,
});

/**
 * Two ends that are the same needle hole may differ in their last binary digit and fall on either side of a
 * rounding step; so a step that starts where thread was last left takes over that rounded point.
 */
function sewingEntries(sewing: readonly SewingStep[]): SewingEntry[] {
  let needle: { readonly exact: Point; readonly written: Point } | null = null;

  const written = (flat: Float64Array): Point[] => {
    const exact = pairs(flat);
    const points = exact.map(roundedPoint);
    const [first] = exact;
    if (needle && first && isSameHole(first, needle.exact)) points[0] = needle.written;
    const end = exact.at(-1);
    if (end) needle = { exact: end, written: points[points.length - 1] };
    return points;
  };

  return sewing.map((step): SewingEntry => {
    if (isSewn(step))
      return {
        block: step.block,
        strand: step.strand,
        role: step.role,
        ...given("piece", step.piece),
        ...given("connector", step.connector),
        points: written(step.points),
      };
    if (step.role === "jump") return { role: "jump", points: written(step.points) };
    if (step.role === "colour-change")
      return {
        role: "colour-change",
        colour: step.colour,
        ...given("thread", step.thread && threadLabel(step.thread)),
      };
    return { role: "trim" };
  });
}

const isSameHole = (a: Point, b: Point): boolean =>
  Math.abs(a[0] - b[0]) <= SAME_POINT_MM && Math.abs(a[1] - b[1]) <= SAME_POINT_MM;

function pairs(flat: Float64Array): Point[] {
  const points: Point[] = [];
  for (let i = 0; i < flat.length; i += 2) points.push([flat[i], flat[i + 1]]);
  return points;
}

const metricsOf = (metrics: PlainMetrics): PlainMetrics => ({
  pieces: metrics.pieces,
  blocks: metrics.blocks,
  strands: metrics.strands,
  trims: metrics.trims,
  hops: metrics.hops,
  stitches: metrics.stitches,
  connectorMm: rounded(metrics.connectorMm),
  tuckedMm: rounded(metrics.tuckedMm),
  ...given("blendedMm", metrics.blendedMm === undefined ? undefined : rounded(metrics.blendedMm)),
  exposedMm: rounded(metrics.exposedMm),
  threadMm: rounded(metrics.threadMm),
  seconds: rounded(metrics.seconds),
});

/** To three decimals; `+ 0` makes minus zero plain. */
const rounded = (value: number): number => Math.round(value * 1000) / 1000 + 0;

const roundedPoint = ([x, y]: Point): Point => [rounded(x), rounded(y)];

/** A member that is there only where it has a value. */
const given = <K extends string, V>(key: K, value: V | undefined): { readonly [P in K]?: V } =>
  value === undefined ? {} : ({ [key]: value } as { [P in K]: V });

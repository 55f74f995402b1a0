/**
 * The JSON Schema (draft 2020-12) of the plan document: strict, so that a member which is not described here
 * is an error. `satisfies` keeps its lists of members in step with the records they describe.
 */
import type { Metrics, PlainMetrics, SewnRole } from "../plan/types.ts";
import { SETTING_SCHEMAS } from "../settings-json-schema.ts";
import type { ThreadLabel } from "../threads/types.ts";
import { PLAN_FORMAT, PLAN_VERSION, type PlanDocument } from "./json.ts";

type Schema = Readonly<Record<string, unknown>>;

/** A strict object: all members required but those named optional. */
const record = <K extends string>(
  properties: Readonly<Record<K, Schema>>,
  optional: readonly NoInfer<K>[] = [],
) => ({
  type: "object",
  properties,
  required: (Object.keys(properties) as K[]).filter((key) => !optional.includes(key)),
  additionalProperties: false,
});

const list = (items: Schema, minItems = 0) => ({
  type: "array",
  items,
  minItems,
});
const oneOf = (...values: readonly string[]) => ({ enum: values });
const positive = { type: "number", exclusiveMinimum: 0 };
const notNegative = { type: "number", minimum: 0 };
const count = { type: "integer", minimum: 0 };
const name = { type: "string", minLength: 1 };
const sentence = { type: "string", minLength: 1 };

const point = { $ref: "#/$defs/point" };
const colour = { $ref: "#/$defs/colour" };
const points = { $ref: "#/$defs/points" };

const SEWN_ROLES = [
  "tie-in",
  "underlay",
  "travel",
  "cover",
  "connector",
  "tie-off",
] as const satisfies readonly SewnRole[];

const settings = record(SETTING_SCHEMAS);

const PLAIN_METRICS = {
  pieces: count,
  blocks: count,
  strands: count,
  trims: count,
  hops: count,
  stitches: count,
  connectorMm: notNegative,
  tuckedMm: notNegative,
  exposedMm: notNegative,
  blendedMm: notNegative,
  threadMm: notNegative,
  seconds: notNegative,
} satisfies Record<keyof PlainMetrics, Schema>;

const metrics = record(
  {
    ...PLAIN_METRICS,
    blocksLowerBound: count,
    strandsLowerBound: count,
    untucked: record(PLAIN_METRICS, ["blendedMm"]),
  } satisfies Record<keyof Metrics, Schema>,
  ["blendedMm"],
);

const thread = record({ name, code: { type: "string" } } satisfies Record<keyof ThreadLabel, Schema>);

const piece = record(
  {
    id: name,
    members: list(name, 2),
    element: name,
    paint: oneOf("fill", "stroke"),
    technique: oneOf("fill", "satin", "run"),
    colour,
    thread,
    order: { type: "integer", minimum: 1 },
    entry: point,
    exit: point,
  },
  ["members", "thread"],
);

const connector = {
  ...record(
    {
      id: name,
      from: name,
      to: name,
      kind: oneOf("tucked", "blended", "hop", "jump"),
      points: list(point, 2),
      tuckedMm: notNegative,
      exposedMm: notNegative,
      blendedMm: notNegative,
      marginMm: notNegative,
      reason: sentence,
      remedy: sentence,
    },
    ["blendedMm", "reason", "remedy"],
  ),
  if: { properties: { kind: { const: "jump" } } },
  // biome-ignore lint/suspicious/noThenProperty: the keyword of JSON Schema
  then: { properties: { reason: true }, required: ["reason"] },
};

const sewingEntry = {
  oneOf: [
    record(
      {
        block: count,
        strand: count,
        role: oneOf(...SEWN_ROLES),
        piece: name,
        connector: name,
        points,
      },
      ["piece", "connector"],
    ),
    record({ role: { const: "trim" } }),
    record({ role: { const: "jump" }, points }),
    record({ role: { const: "colour-change" }, colour, thread }, ["thread"]),
  ],
};

const finding = record(
  {
    code: { type: "string", pattern: "^[a-z0-9]+(-[a-z0-9]+)*$" },
    severity: oneOf("info", "warning", "error"),
    piece: name,
    at: point,
    message: sentence,
    remedy: sentence,
  },
  ["piece", "at"],
);

/** JSON Schema (draft 2020-12) of a plan as JSON. */
export const PLAN_SCHEMA = {
  $schema: "https://json-schema.org/draft/2020-12/schema",
  title: "Tuckline plan",
  description: "An embroidery plan. Millimetres, x right, y down, origin at the artwork's top left corner.",
  ...record(
    {
      format: { const: PLAN_FORMAT },
      version: { const: PLAN_VERSION },
      source: record({
        name: { type: "string" },
        sha256: { type: "string", pattern: "^[0-9a-f]{64}$" },
      }),
      settings,
      size: record({ width: positive, height: positive }),
      userToMm: {
        type: "array",
        items: { type: "number" },
        minItems: 6,
        maxItems: 6,
      },
      cutLine: list(list(point, 4), 1),
      pieces: list(piece),
      connectors: list(connector),
      sewing: list(sewingEntry),
      metrics,
      findings: list(finding),
    } satisfies Record<keyof PlanDocument, Schema>,
    ["cutLine"],
  ),
  $defs: {
    point: {
      type: "array",
      prefixItems: [{ type: "number" }, { type: "number" }],
      items: false,
      minItems: 2,
    },
    points: list({ $ref: "#/$defs/point" }, 1),
    colour: { type: "string", pattern: "^#[0-9a-f]{6}$" },
  },
} as const;

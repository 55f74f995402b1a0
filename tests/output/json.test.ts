/** The plan document against its schema, with ajv as the judge of JSON Schema draft 2020-12. */
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, it } from "vitest";
import { planJson, type SewingEntry, serialisePlan } from "../../core/output/json.ts";
import { PLAN_SCHEMA } from "../../core/output/plan-schema.ts";
import { tinyPlan } from "../support/tiny-plan.ts";

const ajv = new Ajv2020({ strict: true, allErrors: true, allowUnionTypes: true });
const validate = ajv.compile(PLAN_SCHEMA);
const faults = (document: unknown) =>
  validate(document)
    ? []
    : (validate.errors ?? []).map(({ instancePath, message }) => `${instancePath} ${message}`);

/** The document as another program gets it. */
const parsed = () => JSON.parse(serialisePlan(tinyPlan()));

describe("the plan document", () => {
  it("satisfies its schema, and the schema satisfies the draft's own", () => {
    expect(ajv.validateSchema(PLAN_SCHEMA)).toBe(true);
    expect(faults(parsed())).toEqual([]);
  });

  it("has the members of the contract, in its order", () => {
    expect(Object.keys(parsed())).toEqual([
      "format",
      "version",
      "source",
      "settings",
      "size",
      "userToMm",
      "pieces",
      "connectors",
      "sewing",
      "metrics",
      "findings",
    ]);
    expect(parsed()).toMatchObject({
      format: "tuckline-plan",
      version: 1,
      size: { width: 40, height: 32 },
      pieces: [{ id: "feather-1", colour: "#4a6274", order: 1, entry: [4, 4], exit: [4, 11.6] }, {}, {}, {}],
      connectors: [
        { kind: "tucked", tuckedMm: 4.308 },
        { kind: "jump", remedy: "Move them 4 mm nearer." },
      ],
      metrics: { threadMm: 181.25, untucked: { strands: 4 } },
    });
  });

  it("tells the design in needle order", () => {
    expect(parsed().sewing.map(({ role }: SewingEntry) => role)).toEqual([
      "tie-in",
      "underlay",
      "cover",
      "connector",
      "travel",
      "cover",
      "tie-off",
      "trim",
      "jump",
      "cover",
      "trim",
      "colour-change",
      "cover",
      "trim",
    ]);
    expect(parsed().sewing[3]).toEqual({
      block: 0,
      strand: 0,
      role: "connector",
      connector: "feather-1:feather-2",
      points: [
        [4, 11.6],
        [6, 12.4],
        [8, 11.6],
      ],
    });
  });

  it("is the text of the same record, and the same bytes each time", () => {
    expect(parsed()).toEqual(planJson(tinyPlan()));
    expect(serialisePlan(tinyPlan())).toBe(serialisePlan(tinyPlan()));
  });

  it("gives every sewing entry a line of its own", () => {
    const lines = serialisePlan(tinyPlan())
      .split("\n")
      .map((line) => line.replace(/,$/, ""));
    const start = lines.indexOf('"sewing": [') + 1;
    const entries = planJson(tinyPlan()).sewing.map((entry) => JSON.stringify(entry));
    expect(lines.slice(start, start + entries.length + 1)).toEqual([...entries, "]"]);
  });

  it("is sound for a drawing with nothing to sew", () => {
    const nothing = tinyPlan({ pieces: [], connectors: [], sewing: [], findings: [] });
    expect(faults(JSON.parse(serialisePlan(nothing)))).toEqual([]);
  });

  it("rounds to 0.001 mm, without minus zero", () => {
    const [first] = tinyPlan().pieces;
    const document = planJson(tinyPlan({ pieces: [{ ...first, entry: [1 / 3, -0.0002] }] }));
    expect(document.pieces[0].entry).toEqual([0.333, 0]);
  });

  it("joins the entries of a strand exactly, also across a rounding step", () => {
    // The two ends are one needle hole to within a millionth, and yet round to 0.001 and to 0.002.
    const sewing = [
      { role: "cover" as const, block: 0, strand: 0, points: Float64Array.of(0, 0, 0.0015 - 1e-12, 5) },
      { role: "cover" as const, block: 0, strand: 0, points: Float64Array.of(0.0015 + 1e-12, 5, 9, 9) },
    ];
    expect(
      sewing.map(({ points }) => planJson(tinyPlan({ sewing: [{ ...sewing[0], points }] })).sewing[0]),
    ).toMatchObject([
      {
        points: [
          [0, 0],
          [0.001, 5],
        ],
      },
      {
        points: [
          [0.002, 5],
          [9, 9],
        ],
      },
    ]);
    expect(planJson(tinyPlan({ sewing })).sewing).toMatchObject([
      {
        points: [
          [0, 0],
          [0.001, 5],
        ],
      },
      {
        points: [
          [0.001, 5],
          [9, 9],
        ],
      },
    ]);
  });
});

describe("the schema", () => {
  type Loose = ReturnType<typeof parsed>;
  const FAULTS: Readonly<Record<string, (document: Loose) => void>> = {
    "a member that is not described": (d) => Object.assign(d, { hoop: "large" }),
    "a missing member": (d) => delete d.metrics.threadMm,
    "another version": (d) => Object.assign(d, { version: 2 }),
    "a setting that is not one": (d) => Object.assign(d.settings, { speed: 1 }),
    "a setting out of its range": (d) => Object.assign(d.settings, { fillSpacingMm: -1 }),
    "a colour by name": (d) => Object.assign(d.pieces[0], { colour: "slategrey" }),
    "an order that starts at nought": (d) => Object.assign(d.pieces[0], { order: 0 }),
    "a technique that sews nothing": (d) => Object.assign(d.pieces[0], { technique: "skip" }),
    "a point of three numbers": (d) => d.pieces[0].entry.push(0),
    "a jump without a reason": (d) => delete d.connectors[1].reason,
    "a connector of one point": (d) => d.connectors[0].points.splice(1),
    "an unknown role in the sewing": (d) => Object.assign(d.sewing[0], { role: "baste" }),
    "a trim with points": (d) => Object.assign(d.sewing[7], { points: [[0, 0]] }),
    "sewing without a strand": (d) => delete d.sewing[0].strand,
    "a finding without a remedy": (d) => delete d.findings[0].remedy,
    "a finding's code in capitals": (d) => Object.assign(d.findings[0], { code: "BareGap" }),
    "a source without a digest": (d) => Object.assign(d.source, { sha256: "abc" }),
  };
  it.each(Object.entries(FAULTS))("refuses %s", (_, spoil) => {
    const document = parsed();
    spoil(document);
    expect(faults(document)).not.toEqual([]);
  });
});

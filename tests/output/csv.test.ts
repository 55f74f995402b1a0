/** The stitches as CSV, read by `csv-parse` as the judge of RFC 4180 (strict: every record as long as the first). */
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { stitchCsv } from "../../core/output/csv.ts";
import { countStitches } from "../../core/plan/metrics.ts";
import { tinyPlan } from "../support/tiny-plan.ts";

const parsed = (text: string): Record<string, string>[] =>
  parse(text, { columns: true, record_delimiter: "\r\n", relax_quotes: false, relax_column_count: false });

const strandOpenings = 2; // the tiny plan's two strands without ties begin with a needle point of their own

describe("the stitches as CSV", () => {
  const plan = tinyPlan();
  const rows = parsed(stitchCsv(plan));

  it("has a row for every stitch, numbered, and one for each trim, jump and colour change", () => {
    const stitches = rows.filter(({ kind }) => kind === "stitch");
    expect(stitches).toHaveLength(countStitches(plan.sewing) + strandOpenings);
    expect(stitches.map(({ number }) => Number(number))).toEqual(stitches.map((_, k) => k + 1));
    expect(rows.filter(({ kind }) => kind !== "stitch").map(({ kind }) => kind)).toEqual([
      "trim",
      "jump",
      "trim",
      "colour-change",
      "trim",
    ]);
  });

  it("tells of each where it is and what it belongs to", () => {
    expect(rows[0]).toEqual({
      number: "1",
      kind: "stitch",
      x_mm: "4",
      y_mm: "4",
      block: "1",
      strand: "1",
      role: "tie-in",
      piece: "",
      connector: "",
      colour: "#4a6274",
    });
    expect(rows.find(({ role }) => role === "connector")).toMatchObject({
      x_mm: "6",
      y_mm: "12.4",
      connector: "feather-1:feather-2",
      colour: "#4a6274",
    });
    expect(rows.find(({ kind }) => kind === "jump")).toMatchObject({ x_mm: "22", y_mm: "19.2", strand: "" });
    expect(rows.find(({ kind }) => kind === "colour-change")).toMatchObject({ colour: "#c8403a" });
    expect(rows.findLast(({ kind }) => kind === "stitch")).toMatchObject({
      piece: "pennant",
      colour: "#c8403a",
    });
  });

  it("quotes names as RFC 4180 has it: commas, quotes, line breaks", () => {
    const name = 'oar, "stroke side"\r\nof the\neight';
    const [first, ...rest] = plan.pieces;
    const sewing = plan.sewing.map((step) =>
      "piece" in step && step.piece === first.id ? { ...step, piece: name } : step,
    );
    const text = stitchCsv({ ...plan, pieces: [{ ...first, id: name }, ...rest], sewing });
    expect(parsed(text).filter(({ piece }) => piece === name).length).toBeGreaterThan(10);
    expect(text).toContain('"oar, ""stroke side""\r\nof the\neight"');
  });

  it("ends every record with CR LF, the last one too, and is the same bytes every time", () => {
    const text = stitchCsv(plan);
    expect(text.replaceAll("\r\n", "")).not.toMatch(/[\r\n]/);
    expect(text.endsWith("\r\n")).toBe(true);
    expect(stitchCsv(tinyPlan())).toBe(text);
  });

  it("has its header only where nothing is sewn", () => {
    expect(stitchCsv(tinyPlan({ pieces: [], sewing: [] }))).toBe(
      "number,kind,x_mm,y_mm,block,strand,role,piece,connector,colour\r\n",
    );
  });
});

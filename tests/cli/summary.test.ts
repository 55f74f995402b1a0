import { describe, expect, it } from "vitest";
import { findingLines, groupedFindingLines, reaches } from "../../cli/findings.ts";
import { summaryLines } from "../../cli/summary.ts";
import { count, duration, metres, mm, plural, printable, tableLines } from "../../cli/table.ts";
import type { Finding } from "../../core/findings.ts";
import { tinyPlan } from "../support/tiny-plan.ts";

const shadow: Finding = {
  code: "dark-under-light",
  severity: "warning",
  piece: "oar-1",
  at: [12.34, 7],
  message: "Dark thread lies under the pale feather.",
  remedy: "Draw the feather darker.",
};
const brk = (piece: string): Finding => ({
  code: "strand-break",
  severity: "info",
  piece,
  message: `The thread is cut after ${piece}.`,
  remedy: "Overlap them by 3.2 mm.",
});

describe("figures", () => {
  it.each([
    [count(0), "0"],
    [count(999), "999"],
    [count(12345.4), "12,345"],
    [count(1234567), "1,234,567"],
    [mm(12.34), "12.3"],
    [mm(80), "80"],
    [mm(-0.01), "0"],
    [metres(45210), "45.2 m"],
    [duration(0), "0 s"],
    [duration(59.6), "1 min 0 s"],
    [duration(725), "12 min 5 s"],
    [duration(3599.7), "1 h 0 min"],
    [duration(4800), "1 h 20 min"],
    [plural(1, "piece"), "1 piece"],
    [plural(2, "piece"), "2 pieces"],
  ])("%s", (shown, expected) => {
    expect(shown).toBe(expected);
  });

  it("shows control characters of a drawing as a dot, so that no terminal obeys them", () => {
    expect(printable("reed\u001b[31m\n2")).toBe("reed·[31m·2");
  });
});

describe("tables", () => {
  it("aligns columns by their widest cell, counting characters, not bytes", () => {
    expect(
      tableLines(
        [{ title: "no.", align: "right" }, { title: "piece" }, { title: "colour" }],
        [
          ["1", "Schilf–ä", "#4a6274"],
          ["12", "🪶", "#c8403a"],
        ],
      ),
    ).toEqual(["no.  piece     colour", "  1  Schilf–ä  #4a6274", " 12  🪶         #c8403a"]);
  });

  it("leaves out a title row without titles", () => {
    expect(tableLines([{ title: "" }], [["a"]])).toEqual(["a"]);
  });
});

describe("findings", () => {
  it("lists each with its place and remedy, the gravest first", () => {
    expect(findingLines([brk("feather-4"), shadow])).toEqual([
      "warning  dark-under-light  oar-1  at 12.3, 7 mm",
      "         Dark thread lies under the pale feather.",
      "         → Draw the feather darker.",
      "",
      "info     strand-break  feather-4",
      "         The thread is cut after feather-4.",
      "         → Overlap them by 3.2 mm.",
      "",
      "1 warning, 1 note",
    ]);
    expect(findingLines([])).toEqual(["nothing found"]);
  });

  it("groups them by kind and says how many are not shown", () => {
    const breaks = ["feather-1", "feather-4", "feather-9"].map(brk);
    expect(groupedFindingLines([...breaks, shadow], 5, "tuckline check crest.svg")).toEqual([
      "warning  dark-under-light  oar-1",
      "         Dark thread lies under the pale feather.",
      "         → Draw the feather darker.",
      "info     strand-break  feather-1  and 2 more like it",
      "         The thread is cut after feather-1.",
      "         → Overlap them by 3.2 mm.",
      "and 2 more: tuckline check crest.svg",
    ]);
  });

  it("shows so many kinds at most", () => {
    const many = Array.from({ length: 11 }, (_, k): Finding => ({ ...shadow, code: `kind-${k}` }));
    const lines = groupedFindingLines(many, 5, "tuckline check crest.svg");
    expect(lines).toHaveLength(5 * 3 + 1);
    expect(lines.at(-1)).toBe("and 6 more: tuckline check crest.svg");
  });

  it.each([
    ["info", true],
    ["warning", true],
    ["error", false],
  ] as const)("a warning reaches %s: %s", (least, expected) => {
    expect(reaches([brk("feather-4"), shadow], least)).toBe(expected);
    expect(reaches([], least)).toBe(false);
  });
});

describe("the summary of a plan", () => {
  const plan = tinyPlan();
  const plain = {
    ...plan.metrics,
    pieces: 1204,
    strands: 58,
    trims: 47,
    hops: 2,
    connectorMm: 0,
    tuckedMm: 0,
  };
  const metrics = {
    ...plain,
    strands: 12,
    blocksLowerBound: 11,
    strandsLowerBound: 11,
    trims: 1,
    connectorMm: 310.24,
    tuckedMm: 310,
    exposedMm: 0.24,
    threadMm: 45020,
    seconds: 1085,
    untucked: { ...plain, seconds: 2000 },
  };

  it("sets plain beside planned, then what was found, then what to do", () => {
    const lines = summaryLines({ ...plan, metrics, findings: [shadow] }, "crest.svg", "crest.svg");
    expect(lines[0]).toBe(`crest.svg: ${plan.size.widthMm} × ${plan.size.heightMm} mm`);
    expect(lines.slice(2)).toEqual([
      "                     plain     planned",
      "  pieces             1,204       1,204",
      "  blocks                 2           2",
      "  strands               58          12  at least 11 needed in this order",
      "  trims                 47           1",
      "  hops                   2           2",
      "  stitches              40          40",
      "  connectors          0 mm    310.2 mm  310 mm (99 %) tucked, 0.2 mm exposed",
      "  thread             0.2 m      45.0 m  as it lies on the fabric",
      "  sewing time  33 min 20 s  18 min 5 s  estimated",
      "",
      "  thread     blocks  stitches  needle  bobbin",
      "  #4a6274         1       128   0.6 m   0.6 m",
      "  #c8403a         1        39   0.2 m   0.2 m",
      "",
      "Findings",
      "  warning  dark-under-light  oar-1",
      "           Dark thread lies under the pale feather.",
      "           → Draw the feather darker.",
      "",
      "Sew a sample on the same fabric first. For needles and hoop, your machine's manual has the last word.",
    ]);
  });

  it("says how to see the rest, in words that can be typed", () => {
    const findings = ["feather-1", "feather-4"].map(brk);
    const lines = summaryLines({ ...plan, metrics, findings }, "my crest.svg", "my crest.svg");
    expect(lines).toContain('  and 1 more: tuckline check "my crest.svg"');
  });

  it("says so where no order of sewing these pieces needs fewer strands, and where all is tucked", () => {
    const best = { ...metrics, strands: 11, tuckedMm: 310.24, exposedMm: 0 };
    const text = summaryLines({ ...plan, metrics: best, findings: [] }, "crest.svg", "crest.svg").join("\n");
    expect(text).toContain("11  the fewest possible in this order");
    expect(text).toContain("310.2 mm  all tucked");
    expect(text).not.toContain("Findings");
  });
});

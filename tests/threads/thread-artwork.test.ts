/** Threads for drawn colours, and what the artist is told about them. */
import { readFileSync } from "node:fs";
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, it } from "vitest";
import { writeLayers } from "../../core/layers/write.ts";
import { planJson, serialisePlan } from "../../core/output/json.ts";
import { PLAN_SCHEMA } from "../../core/output/plan-schema.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { threadUse } from "../../core/plan/thread-use.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { colourDifference } from "../../core/threads/difference.ts";
import { readThreadList } from "../../core/threads/read-thread-list.ts";
import { type ThreadChoice, threadArtwork } from "../../core/threads/thread-artwork.ts";
import { readContent, svg } from "../support/read.ts";

const CLUB = readThreadList(
  readFileSync(new URL("../../fixtures/threads-willowmere.csv", import.meta.url), "utf8"),
);

/** Squares beside one another, each with its colour, so wide that none covers another. */
const squares = (colours: Readonly<Record<string, string>>): string =>
  Object.entries(colours)
    .map(([id, fill], i) => `<rect id="${id}" x="${i * 12}" y="10" width="10" height="10" fill="${fill}"/>`)
    .join("");

const threaded = (colours: Readonly<Record<string, string>>, choice: ThreadChoice) => {
  const { pieces, findings } = threadArtwork(readContent(squares(colours)), choice);
  return {
    sewn: pieces.map(({ id, colour, thread }) => [id, colour, thread?.code]),
    findings,
    codes: findings.map(({ code, severity }) => `${severity} ${code}`),
  };
};

describe("without a list and without a limit", () => {
  it("the drawing is left as it is", () => {
    const artwork = readContent(squares({ feather: "#4a6274", reed: "#6f8f4a" }));
    expect(threadArtwork(artwork, { maxThreads: null })).toBe(artwork);
  });
});

describe("with a list", () => {
  it("each colour takes the nearest thread, with its name and code", () => {
    const { sewn, codes } = threaded(
      { feather: "#6f90a8", pennant: "#c7413b" },
      { list: CLUB, maxThreads: null },
    );
    expect(sewn).toEqual([
      ["feather", "#6f8ea6", "W-11"],
      ["pennant", "#c8403a", "W-22"],
    ]);
    expect(codes).toEqual([]);
  });

  it("says that two shades became one thread, how far apart they were, and what to do", () => {
    const { sewn, findings } = threaded(
      { "wave-1": "#2f7f92", "wave-2": "#2b7a8d" },
      { list: CLUB, maxThreads: null },
    );
    expect(sewn.map(([, , code]) => code)).toEqual(["W-41", "W-41"]);
    const apart = colourDifference("#2f7f92", "#2b7a8d").toFixed(1);
    expect(findings).toEqual([
      {
        code: "colours-share-thread",
        severity: "info",
        piece: "wave-2",
        message: `#2f7f92 and #2b7a8d are sewn with one thread, Weir water (W-41, #2c7d91); drawn they differ by a ΔE00 of ${apart}.`,
        remedy: expect.stringContaining("list a thread for each"),
      },
    ]);
  });

  it("warns where no listed thread comes near", () => {
    const { findings } = threaded({ pennant: "#8a2be2" }, { list: CLUB, maxThreads: null });
    expect(findings).toMatchObject([
      {
        code: "thread-far-off",
        severity: "warning",
        piece: "pennant",
        message: expect.stringMatching(
          /^#8a2be2 is sewn with .* off by a ΔE00 of \d+\.\d: the eye sees another/,
        ),
        remedy: expect.stringContaining("List a thread nearer to it"),
      },
    ]);
  });

  it("draws the line at a ΔE00 of 5", () => {
    const grey = (l: number) => [{ name: "Mist", code: "", hex: `#${l.toString(16).repeat(3)}` }];
    for (let l = 0x80; l < 0xa0; l++) {
      const far = colourDifference("#808080", grey(l)[0].hex) > 5;
      expect(threaded({ stone: "#808080" }, { list: grey(l), maxThreads: null }).codes).toEqual(
        far ? ["warning thread-far-off"] : [],
      );
    }
  });

  it("takes the first of two threads of one colour, for all pieces alike", () => {
    const list = [
      { name: "Ink", code: "1", hex: "#1b3145" },
      { name: "Ink again", code: "2", hex: "#1b3145" },
    ];
    const { sewn } = threaded({ rim: "#1b3145", eye: "#1b3146" }, { list, maxThreads: 1 });
    expect(sewn.map(([, , code]) => code)).toEqual(["1", "1"]);
  });
});

describe("with a limit", () => {
  it("brings the drawn colours together, and keeps one that was drawn", () => {
    const { sewn, codes } = threaded(
      { "feather-1": "#4a6274", "feather-2": "#4c6577", pennant: "#c8403a" },
      { maxThreads: 2 },
    );
    expect(sewn).toEqual([
      ["feather-1", sewn[0][1], undefined],
      ["feather-2", sewn[0][1], undefined],
      ["pennant", "#c8403a", undefined],
    ]);
    expect(["#4a6274", "#4c6577"]).toContain(sewn[0][1]);
    expect(codes).toEqual(["info colours-share-thread"]);
  });

  it("says when more threads would mend a colour that is far off", () => {
    const { findings, codes } = threaded(
      { reed: "#6d8d47", pennant: "#c8403a" },
      { list: CLUB, maxThreads: 1 },
    );
    expect(codes).toEqual(["warning colours-share-thread", "warning thread-far-off"]);
    expect(findings[1].remedy).toBe("Allow more threads: there is one off by 0.0 only.");
  });

  it("chooses among listed threads only, never more than allowed", () => {
    const colours = { a: "#6f90a8", b: "#4b6375", c: "#c7413b", d: "#b0353b", e: "#2f7f92", f: "#6f8f4a" };
    for (let maxThreads = 1; maxThreads <= 6; maxThreads++) {
      const { sewn } = threaded(colours, { list: CLUB, maxThreads });
      const used = new Set(sewn.map(([, hex]) => hex));
      expect(used.size).toBe(maxThreads);
      for (const hex of used) expect(CLUB.map((thread) => thread.hex)).toContain(hex);
    }
  });

  it("leaves a drawing alone in which nothing is sewn", () => {
    expect(threaded({}, { maxThreads: 3 }).sewn).toEqual([]);
    expect(threaded({}, { maxThreads: 3, list: CLUB }).codes).toEqual(["warning nothing-to-sew"]);
  });

  it("counts no colour that is skipped", () => {
    const content = `${squares({ feather: "#4a6274" })}<rect id="note" x="50" y="50" width="40" height="40" fill="#ff00ff" data-tuck-technique="skip"/>`;
    const { pieces, findings } = threadArtwork(readContent(content), { list: CLUB, maxThreads: 1 });
    expect(pieces.map(({ colour }) => colour)).toEqual(["#4a6274", "#ff00ff"]);
    expect(findings).toEqual([]);
  });

  it("names a few of very many colours", () => {
    const many = Object.fromEntries(
      Array.from({ length: 8 }, (_, i) => [`scale-${i}`, `#4a62${(0x70 + i).toString(16)}`]),
    );
    const { findings } = threaded(many, { maxThreads: 1 });
    expect(findings[0].message).toContain("#4a6275 and 2 more are sewn with one thread");
  });
});

describe("threads in a plan", () => {
  const drawing = svg(squares({ "feather-1": "#6f90a8", pennant: "#c7413b", "feather-2": "#6e8fa7" }));
  const plan = makePlan(drawing, "feathers.svg", { ...DEFAULT_SETTINGS, recipe: "felt" }, CLUB);

  it("stand with its pieces and colour changes, as the schema has them", () => {
    const document = planJson(plan);
    const red = { name: 'Pennant "Old Crew" red', code: "W-22" };
    expect(document.pieces.map(({ thread }) => thread?.code)).toEqual(["W-11", "W-22", "W-11"]);
    expect(document.sewing.find(({ role }) => role === "colour-change")).toEqual({
      role: "colour-change",
      colour: "#c8403a",
      thread: red,
    });
    const validate = new Ajv2020({ strict: true, allowUnionTypes: true }).compile(PLAN_SCHEMA);
    expect(validate(JSON.parse(serialisePlan(plan)))).toBe(true);
    const spoilt = JSON.parse(serialisePlan(plan));
    spoilt.pieces[0].thread.maker = "none";
    expect(validate(spoilt)).toBe(false);
  });

  it("name the recipe among the settings", () => {
    expect(planJson(plan).settings.recipe).toBe("felt");
  });

  it("stand on the blocks of the stitches layer, and planning again changes nothing", () => {
    const planned = writeLayers(drawing, plan);
    expect(planned).toContain('data-tuck-thread="Heron slate" data-tuck-code="W-11"');
    expect(planned).toContain('data-tuck-thread="Pennant &#34;Old Crew&#34; red" data-tuck-code="W-22"');
    const again = makePlan(planned, "feathers.svg", { ...DEFAULT_SETTINGS, recipe: "felt" }, CLUB);
    expect(writeLayers(planned, again)).toBe(planned);
  });

  it("are counted each once, in the order in which they are first sewn", () => {
    const [slate, red, ...others] = threadUse(plan);
    expect(others).toEqual([]);
    expect(slate).toMatchObject({ colour: "#6f8ea6", blocks: 2, thread: { code: "W-11" } });
    expect(red).toMatchObject({ colour: "#c8403a", blocks: 1, thread: { code: "W-22" } });
    expect(slate.stitches + red.stitches).toBe(plan.metrics.stitches);
  });

  it("take the path of the needle and the fabric's thickness at every stitch", () => {
    const uses = threadUse(plan);
    const needleMm = uses.reduce((sum, use) => sum + use.needleMm, 0);
    const movements = plan.metrics.stitches - plan.metrics.strands;
    const expected = plan.metrics.threadMm + movements * plan.settings.fabricThicknessMm;
    expect(needleMm).toBeCloseTo(expected, 6);
    const thick = threadUse({ ...plan, settings: { ...plan.settings, fabricThicknessMm: 3 } });
    expect(thick[0].needleMm).toBeGreaterThan(uses[0].needleMm);
  });
});

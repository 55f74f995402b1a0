/** The commands on a small drawing of our own: a heron's two feathers of one thread, a red pennant over them. */
import { readFileSync } from "node:fs";
import { chmod } from "node:fs/promises";
import { gunzipSync, gzipSync } from "node:zlib";
import { beforeEach, describe, expect, it } from "vitest";
import { here } from "./here.ts";

const CREST = `<?xml version="1.0" encoding="UTF-8"?>
<!-- Willowmere -->
<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="30mm" viewBox="0 0 40 30">
  <path id="feather-1" fill="#4a6274" d="M4 4h14v10h-14z"/>
  <path id="feather-2" fill="#4a6274" d="M14 8h14v10h-14z"/>
  <path id="pennant" fill="#c8403a" d="M20 14l16 5l-16 7z"/>
</svg>
`;
const LETTERED = CREST.replace("</svg>", '  <text id="name" x="2" y="28">Willowmere</text>\n</svg>');

const test = here();
beforeEach(() => test.write("crest.svg", CREST));

describe("plan", () => {
  it("writes the planned drawing beside the artwork, leaves that alone, and says what was gained", async () => {
    const { code, stdout, stderr } = await test.run("plan crest.svg");
    expect({ code, stderr }).toEqual({ code: 0, stderr: "" });
    expect(await test.files()).toEqual(["crest.planned.svg", "crest.svg"]);
    expect(await test.text("crest.svg")).toBe(CREST);
    expect(await test.text("crest.planned.svg")).toContain('data-tuck-role="stitches"');
    expect(stdout).toMatch(/^crest\.svg: 40 × 30 mm\n/);
    expect(stdout).toMatch(/\n {2}pieces +3 +3\n {2}blocks +2 +2\n/);
    expect(stdout).toContain("Sew a sample on the same fabric first.");
    expect(stdout).toMatch(/\nWritten: crest\.planned\.svg\n$/);
  });

  it("writes only what it is asked for", async () => {
    expect((await test.run("plan crest.svg --json out/crest.json --picture out/crest.png")).code).toBe(0);
    expect(await test.files()).toEqual(["crest.svg", "out"]);
    const plan = JSON.parse(await test.text("out/crest.json"));
    expect(plan).toMatchObject({
      format: "tuckline-plan",
      version: 1,
      source: { name: "crest.svg" },
      size: { width: 40, height: 30 },
      metrics: { pieces: 3, blocks: 2 },
    });
    const png = await test.bytes("out/crest.png");
    expect(png.subarray(1, 4).toString()).toBe("PNG");
    // Width and height in the PNG header (PNG specification, IHDR): ten pixels to the millimetre.
    expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([400, 300]);
  });

  it("draws the picture as SVG where its name says so", async () => {
    await test.run("plan crest.svg --picture sewn.svg");
    expect(await test.text("sewn.svg")).toMatch(/^<svg[^>]+ width="[\d.]+mm"/);
  });

  it("plans the sewn width that is asked for", async () => {
    await test.write("towel.json", '{ "widthMm": 60, "pullMm": 0.3 }');
    await test.run(
      "plan crest.svg --settings towel.json --width 80 --set tieCount=4 --order paint --json plan.json",
    );
    const { size, settings } = JSON.parse(await test.text("plan.json"));
    expect(size).toEqual({ width: 80, height: 60 });
    expect(settings).toMatchObject({ widthMm: 80, pullMm: 0.3, tieCount: 4, order: "paint" });
  });

  it("passes drawings on through pipes, the summary beside them", async () => {
    const planned = await test.run("plan -", { stdin: CREST });
    expect(planned.code).toBe(0);
    expect(planned.stdout).toContain('data-tuck-role="stitches"');
    expect(planned.stderr).toMatch(/Written: standard output\n$/);
    const stripped = await test.run("strip - --quiet", { stdin: planned.stdout });
    expect(stripped).toEqual({ code: 0, stdout: CREST, stderr: "" });
  });

  it("says nothing when told to be quiet", async () => {
    expect(await test.run("plan crest.svg --quiet")).toEqual({ code: 0, stdout: "", stderr: "" });
  });

  it("writes the same bytes again, and changes nothing when it plans its own output", async () => {
    await test.run("plan crest.svg -o once.svg --json once.json");
    await test.run("plan crest.svg -o twice.svg --json twice.json");
    expect(await test.text("twice.svg")).toBe(await test.text("once.svg"));
    expect(await test.text("twice.json")).toBe(await test.text("once.json"));
    await test.run("plan twice.svg --in-place");
    expect(await test.text("twice.svg")).toBe(await test.text("once.svg"));
  });

  it("writes over the artwork only when told to, and then strip brings it back", async () => {
    expect((await test.run("plan crest.svg -o crest.svg")).code).toBe(2);
    expect(await test.text("crest.svg")).toBe(CREST);
    expect((await test.run("plan crest.svg --in-place")).code).toBe(0);
    expect(await test.text("crest.svg")).not.toBe(CREST);
    expect((await test.run("strip crest.svg --in-place")).code).toBe(0);
    expect(await test.text("crest.svg")).toBe(CREST);
  });

  it("does not guess where a planned drawing should go", async () => {
    await test.run("plan crest.svg");
    const { code, stderr } = await test.run("plan crest.planned.svg");
    expect(code).toBe(2);
    expect(stderr).toBe(
      "crest.planned.svg: this is an input, and inputs are kept; name another output or say --in-place\n",
    );
  });

  it("replaces an earlier output, a write-protected one only by force", async () => {
    await test.write("out.svg", "old");
    expect((await test.run("plan crest.svg -o out.svg")).code).toBe(0);
    await test.write("kept.svg", "old");
    await chmod(`${test.folder}/kept.svg`, 0o444);
    expect((await test.run("plan crest.svg -o kept.svg")).code).toBe(2);
    expect(await test.text("kept.svg")).toBe("old");
    expect((await test.run("plan crest.svg -o kept.svg --force")).code).toBe(0);
    expect(await test.text("kept.svg")).toBe(await test.text("out.svg"));
  });

  it("exits with 1 where a finding is as grave as asked for, and writes all the same", async () => {
    await test.write("lettered.svg", LETTERED);
    expect((await test.run("plan lettered.svg")).code).toBe(0);
    const { code, stdout } = await test.run("plan lettered.svg -o strict.svg --fail-on info");
    expect(code).toBe(1);
    expect(stdout).toMatch(/\nFindings\n.*text/);
    expect(await test.text("strict.svg")).toBe(await test.text("lettered.planned.svg"));
  });

  it.each([
    ["UTF-16", Buffer.from(`\ufeff${CREST.replace("UTF-8", "UTF-16")}`, "utf16le")],
    ["UTF-8 with a byte order mark and CRLF", Buffer.from(`\ufeff${CREST.replaceAll("\n", "\r\n")}`)],
    ["ISO-8859-1", Buffer.from(CREST.replace("UTF-8", "ISO-8859-1").replace("Willow", "Möwe"), "latin1")],
  ])("keeps the encoding: %s, planned and stripped, is the artwork byte for byte", async (_name, bytes) => {
    await test.write("art.svg", bytes);
    expect((await test.run("plan art.svg")).code).toBe(0);
    expect((await test.run("strip art.planned.svg")).code).toBe(0);
    expect((await test.bytes("art.stripped.svg")).equals(bytes)).toBe(true);
  });

  it("reads and writes gzipped drawings", async () => {
    await test.write("art.svgz", gzipSync(CREST));
    expect((await test.run("plan art.svgz -o out.svgz")).code).toBe(0);
    const planned = gunzipSync(await test.bytes("out.svgz")).toString();
    await test.run("plan crest.svg -o plain.svg");
    expect(planned).toBe(await test.text("plain.svg"));
  });
});

describe("strip", () => {
  it("writes beside the planned drawing, never over the artwork by itself", async () => {
    await test.run("plan crest.svg");
    const { code, stdout } = await test.run("strip crest.planned.svg");
    expect(code).toBe(0);
    expect(stdout).toBe("crest.planned.svg: back to the artwork\nWritten: crest.stripped.svg\n");
    expect(await test.text("crest.stripped.svg")).toBe(CREST);
  });

  it("says where there was nothing to take out", async () => {
    const { stdout } = await test.run("strip crest.svg");
    expect(stdout).toContain("crest.svg: there was nothing to take out");
    expect(await test.text("crest.stripped.svg")).toBe(CREST);
  });
});

describe("check", () => {
  it("finds nothing in a good drawing, writes nothing", async () => {
    expect(await test.run("check crest.svg")).toEqual({ code: 0, stdout: "nothing found\n", stderr: "" });
    expect(await test.files()).toEqual(["crest.svg"]);
  });

  it("lists what was found with its remedy, and fails from warnings on", async () => {
    await test.write("lettered.svg", LETTERED);
    const { code, stdout } = await test.run("check lettered.svg");
    const severity = /^(\w+) +text-\S+ {2}name/m.exec(stdout)?.[1];
    expect(severity).toBeDefined();
    expect(stdout).toMatch(/→ .+\n\n1 (error|warning|note)\n$/);
    expect(code).toBe(severity === "info" ? 0 : 1);
    expect((await test.run("check lettered.svg --fail-on info")).code).toBe(1);
    expect((await test.run("check lettered.svg --fail-on error")).code).toBe(severity === "error" ? 1 : 0);
  });

  it("prints findings for other programs", async () => {
    await test.write("lettered.svg", LETTERED);
    const [finding] = JSON.parse((await test.run("check lettered.svg --json")).stdout);
    expect(finding).toMatchObject({ piece: "name", message: expect.any(String), remedy: expect.any(String) });
    expect(JSON.parse((await test.run("check crest.svg --json")).stdout)).toEqual([]);
  });
});

describe("inspect", () => {
  it("shows a drawing that is not planned yet", async () => {
    const { code, stdout } = await test.run("inspect crest.svg");
    expect(code).toBe(0);
    expect(stdout.split("\n")).toEqual([
      "crest.svg: drawing, 40 × 30 mm, 3 pieces, not planned yet",
      "",
      "no.  block  strand  colour   technique  piece      element",
      "  –      –       –  #4a6274  fill       feather-1  feather-1",
      "  –      –       –  #4a6274  fill       feather-2  feather-2",
      "  –      –       –  #c8403a  satin      pennant    pennant",
      "",
    ]);
  });

  it("shows the same of a planned drawing and of its plan as JSON", async () => {
    await test.run("plan crest.svg -o crest.planned.svg --json crest.json");
    const table = [
      "",
      "no.  block  strand  colour   technique  piece      element",
      "  1      1       1  #4a6274  fill       feather-1  feather-1",
      "  2      1       1  #4a6274  fill       feather-2  feather-2",
      "  3      2       2  #c8403a  satin      pennant    pennant",
      "",
    ];
    expect((await test.run("inspect crest.planned.svg")).stdout.split("\n")).toEqual([
      "crest.planned.svg: planned drawing, 40 × 30 mm, 3 pieces, 2 blocks, 2 strands",
      ...table,
    ]);
    expect((await test.run("inspect crest.json")).stdout.split("\n")).toEqual([
      "crest.json: plan, 40 × 30 mm, 3 pieces, 2 blocks, 2 strands",
      ...table,
    ]);
  });

  it("counts a strand wherever the machine jumps, and names what was drawn since", async () => {
    const apart = CREST.replace("M14 8h14v10h-14z", "M30 8h8v8h-8z");
    await test.write("apart.svg", apart);
    await test.run("plan apart.svg -o planned.svg --json plan.json");
    for (const name of ["planned.svg", "plan.json"]) {
      const inspection = JSON.parse((await test.run(`inspect ${name} --json`)).stdout);
      expect(inspection).toMatchObject({ blocks: 2, strands: 3 });
      expect(inspection.pieces.map((piece: { strand: number }) => piece.strand)).toEqual([1, 2, 3]);
    }
    const later = (await test.text("planned.svg")).replace(
      '<path id="pennant"',
      '<path id="mast" d="M2 2h2v26h-2z"/><path id="pennant"',
    );
    await test.write("later.svg", later);
    const { stdout } = await test.run("inspect later.svg");
    expect(stdout).toMatch(/4 pieces, 2 blocks, 3 strands\n/);
    expect(stdout).toMatch(/\n +– +– +– {2}#000000 {2}satin +mast +mast\n$/);
  });

  it("shows the pins that the artist made by moving markers", async () => {
    await test.run("plan crest.svg");
    const planned = await test.text("crest.planned.svg");
    const marker = '<g data-tuck-point="entry" data-tuck-piece="feather-1"';
    await test.write("moved.svg", planned.replace(marker, `${marker} transform="translate(1 0)"`));
    const { stdout } = await test.run("inspect moved.svg");
    expect(stdout).toMatch(/2 strands, 1 pin\n/);
    expect(stdout).toMatch(/ feather-1 {2}feather-1 {2}entry [\d.]+, [\d.]+\n/);
    const { pins } = JSON.parse((await test.run("inspect moved.svg --json")).stdout);
    expect(pins).toEqual([
      { piece: "feather-1", point: "entry", at: [expect.any(Number), expect.any(Number)] },
    ]);
  });

  it.each([
    ["{}", 'its format is not "tuckline-plan"'],
    ['{ "format": "tuckline-plan", "version": 2 }', "This plan has version 2, and only 1 can be read"],
    ['{ "format": "tuckline-plan", "version": 1, "sewing": 3 }', 'damaged: "sewing" is not a list'],
    ['{ "format": "tuckline-plan", "version": 1, "sewing": [4] }', 'damaged: "sewing[0]" is not a record'],
    ["{", "odd.json:1:2: this is not JSON"],
  ])("says what is wrong with JSON that is no plan: %s", async (text, message) => {
    await test.write("odd.json", text);
    const { code, stdout, stderr } = await test.run("inspect odd.json");
    expect({ code, stdout }).toEqual({ code: 2, stdout: "" });
    expect(stderr).toContain(message);
    expect(stderr.trimEnd().split("\n")).toHaveLength(1);
  });
});

describe("the heron crest", () => {
  it("is planned with one strand a block", async () => {
    await test.write(
      "heron-crest.svg",
      readFileSync(new URL("../../fixtures/heron-crest.svg", import.meta.url)),
    );
    await test.run("plan heron-crest.svg --json heron.json --quiet");
    const { metrics } = JSON.parse(await test.text("heron.json"));
    expect(metrics.strands).toBe(metrics.blocks);
    expect(metrics.untucked.strands).toBeGreaterThan(2 * metrics.strands);
  }, 60_000);
});

/** To the machine from the command line: stitch file, CSV, run sheet, pictures; and a stitch file read back. */
import { crc32 } from "node:zlib";
import { decode } from "fast-png";
import { beforeEach, describe, expect, it } from "vitest";
import { svgToPixels } from "../support/png.ts";
import { readStitchFile } from "../support/stitch-file.ts";
import { here } from "./here.ts";

const PENNANT = `<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="30mm" viewBox="0 0 40 30">
  <path id="feather" fill="#4a6274" d="M4 4h14v10h-14z"/>
  <path id="pennant" fill="#c8403a" d="M20 14l16 5l-16 7z"/>
</svg>
`;

const test = here();
beforeEach(() => test.write("pennant.svg", PENNANT));

describe("plan", () => {
  it("writes stitch file, CSV, run sheet, JSON and picture together, and only what is asked for", async () => {
    const { code, stderr } = await test.run(
      "plan pennant.svg --machine p.dst --csv p.csv --sheet p.html --json p.json --picture p.png --quiet",
    );
    expect({ code, stderr }).toEqual({ code: 0, stderr: "" });
    expect(await test.files()).toEqual(["p.csv", "p.dst", "p.html", "p.json", "p.png", "pennant.svg"]);
    const { stitches } = readStitchFile(await test.bytes("p.dst"));
    const { metrics } = JSON.parse(await test.text("p.json"));
    expect(stitches.filter(({ what }) => what === "stitch")).toHaveLength(metrics.stitches);
    expect((await test.text("p.csv")).split("\r\n").filter((row) => /^\d+,stitch,/.test(row))).toHaveLength(
      metrics.stitches,
    );
    expect(await test.text("p.html")).toMatch(/^<!DOCTYPE html>\n<html lang="en">/);
  });

  it("writes the same bytes again", async () => {
    await test.run("plan pennant.svg --machine a.dst --csv a.csv --sheet a.html --picture a.png");
    await test.run("plan pennant.svg --machine b.dst --csv b.csv --sheet b.html --picture b.png");
    for (const ending of ["dst", "csv", "html", "png"])
      expect((await test.bytes(`a.${ending}`)).equals(await test.bytes(`b.${ending}`)), ending).toBe(true);
  });

  it("passes a stitch file on, the summary beside it", async () => {
    const { stdout, stderr } = await test.run("plan pennant.svg --machine -");
    expect(stdout).toMatch(/^LA:pennant {9}\rST:/);
    expect(stderr).toContain("Written: standard output");
  });

  it("starts the machine where it is told to, and trims as the machine is set", async () => {
    await test.run("plan pennant.svg --machine p.dst --set origin=start --set trimJumps=5");
    const { stitches } = readStitchFile(await test.bytes("p.dst"));
    expect(stitches[0]).toMatchObject({ what: "stitch", x: 0, y: 0 });
    expect(stitches.filter(({ what }) => what === "jump")).toHaveLength(5);
  });

  it("draws the picture as fine as asked for, and says in it how large it is", async () => {
    await test.run("plan pennant.svg --picture p.png --dpi 300");
    const png = await test.bytes("p.png");
    const { width, height } = decode(png);
    expect([width, height]).toEqual([Math.round((40 / 25.4) * 300), Math.round((30 / 25.4) * 300)]);
    // PNG specification, 11.3.5.3: pixels to the unit along x and y, and the unit, 1 for the metre.
    const at = png.indexOf("pHYs");
    expect([
      png.readUInt32BE(at - 4),
      png.readUInt32BE(at + 4),
      png.readUInt32BE(at + 8),
      png[at + 12],
    ]).toEqual([9, Math.round(300 / 0.0254), Math.round(300 / 0.0254), 1]);
    expect(png.readUInt32BE(at + 13)).toBe(crc32(png.subarray(at, at + 13)));
  });

  it("refuses a picture of more pixels than can be drawn, and says what can be", async () => {
    const { code, stderr } = await test.run("plan pennant.svg --width 400 --picture p.png --dpi 4800");
    expect(code).toBe(2);
    expect(stderr).toMatch(/^tuckline: --dpi 4800 makes more pixels than can be drawn; give at most \d+\n$/);
    expect(await test.files()).toEqual(["pennant.svg"]);
  });

  it("draws a sequence of pictures, each with more thread than the one before, the last the whole", async () => {
    await test.run("plan pennant.svg --picture p.svg --frames 10");
    await test.run("plan pennant.svg --picture whole.svg");
    const names = (await test.files()).filter((name) => /^p-\d/.test(name));
    expect(names).toEqual(Array.from({ length: 10 }, (_, k) => `p-${String(k + 1).padStart(2, "0")}.svg`));
    const sizes = await Promise.all(names.map(async (name) => (await test.bytes(name)).length));
    for (const [k, size] of sizes.entries()) if (k > 0) expect(size).toBeGreaterThan(sizes[k - 1]);
    expect(await test.text("p-10.svg")).toBe(await test.text("whole.svg"));
  });

  it("stops the picture after so many stitches, and a sequence there too", async () => {
    await test.run("plan pennant.svg --picture some.svg --until 40");
    await test.run("plan pennant.svg --picture p.svg --until 40 --frames 2");
    expect(await test.text("p-2.svg")).toBe(await test.text("some.svg"));
    expect(await test.text("some.svg")).not.toContain("#c8403a");
  });

  it("lays picture and run sheet on the fabric that is asked for", async () => {
    await test.run("plan pennant.svg --picture p.svg --sheet p.html --fabric navy");
    const { rgba } = svgToPixels(await test.text("p.svg"), 400);
    expect(rgba[2]).toBeGreaterThan(2 * rgba[0]);
    expect(await test.text("p.html")).toContain('fill="#000080"');
  });

  it("leaves everything as it was where one of the outputs cannot be written", async () => {
    await test.write("file", "");
    const { code } = await test.run("plan pennant.svg --machine p.dst --sheet file/p.html");
    expect(code).toBe(2);
    expect(await test.files()).toEqual(["file", "pennant.svg"]);
  });
});

describe("inspect", () => {
  beforeEach(() => test.run("plan pennant.svg --machine p.dst --quiet"));

  it("tells what a machine file holds", async () => {
    const { code, stdout } = await test.run("inspect p.dst");
    expect(code).toBe(0);
    expect(stdout).toMatch(
      /^p\.dst: machine file "pennant", 3\d(\.\d)? × 2\d(\.\d)? mm, [\d,]+ stitches, \d+ jumps, 1 trim, 1 colour change\n/,
    );
    expect(stdout).toMatch(
      /\nblock {2}stitches {2}trims {2}thread\n {4}1 +\d+ +1 +\d\.\d m\n {4}2 +\d+ +0 +\d\.\d m\n$/,
    );
  });

  it("prints the same as JSON, and reads it from standard input", async () => {
    const { stdout } = await test.run("inspect - --json", { stdin: await test.bytes("p.dst") });
    const record = JSON.parse(stdout);
    expect(record).toMatchObject({ kind: "machine file", colourChanges: 1, trims: 1, faults: [] });
    expect(record.header).toMatchObject({ name: "pennant", colourChanges: 1, records: record.records });
    expect(record.blocks).toHaveLength(2);
  });

  it("draws it: as lit thread, and as lines that a plan can start from again", async () => {
    const { code, stdout } = await test.run("inspect p.dst -o lines.svg --picture p.png");
    expect(code).toBe(0);
    expect(stdout).toMatch(/\nWritten: lines\.svg, p\.png\n$/);
    expect((await test.bytes("p.png")).subarray(1, 4).toString()).toBe("PNG");
    expect(await test.text("lines.svg")).toContain("<title>Block 2</title>");
    expect((await test.run("inspect lines.svg")).code).toBe(0);
  });

  it("keeps the machine file from being written over", async () => {
    const { code, stderr } = await test.run("inspect p.dst -o p.dst");
    expect(code).toBe(2);
    expect(stderr).toContain("p.dst: this is an input, and inputs are kept");
  });

  it("says what is wrong with a file that was cut short, and with one that holds nothing", async () => {
    const bytes = await test.bytes("p.dst");
    await test.write("short.dst", bytes.subarray(0, 900));
    expect((await test.run("inspect short.dst")).stdout).toContain("it may have been cut short");
    await test.write("empty.dst", bytes.subarray(0, 512));
    const { code, stderr } = await test.run("inspect empty.dst");
    expect(code).toBe(2);
    expect(stderr).toBe("empty.dst: No stitch is in this machine file; write it again from the drawing.\n");
  });
});

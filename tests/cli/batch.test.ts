/** Batches: which drawings, what is done again and what is not, and that one that fails never stops the rest. */
import { mkdir, readdir, rm, symlink, unlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { Readable, Writable } from "node:stream";
import { pathToFileURL } from "node:url";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { findDrawings } from "../../cli/batch/drawings.ts";
import type { Progress } from "../../cli/batch/progress.ts";
import type { ReportEntry } from "../../cli/batch/report.ts";
import type { BatchRequest } from "../../cli/batch/request.ts";
import { runBatch } from "../../cli/batch/run-batch.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { built } from "../support/built.ts";
import { here } from "./here.ts";

const FEATHER = `<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="10mm" viewBox="0 0 20 10">
<path fill="#4a6274" d="M4 2h10v6h-10z"/></svg>`;
const REED = FEATHER.replace("#4a6274", "#6f8f4a").replace(
  'width="20mm" height="10mm"',
  'width="10mm" height="30mm"',
);

const test = here();
const at = (...names: string[]): string => join(test.folder, ...names);

/** Files at any depth, by name from the folder. */
async function filesIn(folder: string): Promise<string[]> {
  const entries = await readdir(at(folder), { recursive: true, withFileTypes: true });
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(at(folder).length + 1))
    .sort();
}

describe("a batch", { timeout: 60_000 }, () => {
  it("plans each drawing, reports on all, and goes on past one that is broken", async () => {
    await mkdir(at("art/birds"), { recursive: true });
    await mkdir(at("art/water"), { recursive: true });
    await test.write("art/birds/crest.svg", FEATHER);
    await test.write("art/water/crest.svg", REED);
    await test.write("art/water/wave.svg", "<svg\n<path");

    const { code, stdout, stderr } = await test.run("batch art/**/*.svg --out sewn --jobs 1 --fit 12x12");
    expect(code).toBe(1);
    expect(stderr).toMatch(/^art\/water\/wave\.svg:2:\d+: .+$/m);
    expect(stdout).toContain("Written: sewn/index.html, sewn/report.csv, sewn/report.json");
    expect(await filesIn("sewn")).toEqual([
      "index.html",
      ...["birds", "water"].flatMap((folder) =>
        ["dst", "html", "json", "planned.svg"].map((ending) => `plans/${folder}/crest.${ending}`),
      ),
      "records/birds/crest.json",
      "records/water/crest.json",
      "report.csv",
      "report.json",
      "thumbs/birds/crest.png",
      "thumbs/water/crest.png",
    ]);

    // RFC 4180 by a library; the drawings are as large as go into 12 × 12 mm.
    const rows = parse(await test.bytes("sewn/report.csv"), { columns: true }) as Record<string, string>[];
    expect(rows.map(({ name, status, width_mm, height_mm }) => [name, status, width_mm, height_mm])).toEqual([
      ["birds/crest.svg", "planned", "12", "6"],
      ["water/crest.svg", "planned", "4", "12"],
      ["water/wave.svg", "failed", "", ""],
    ]);
  });
});

describe("which drawings", () => {
  const names = async (...patterns: string[]) => {
    const outputs = ["plans", "thumbs", "records"].map((name) => at(name));
    return (await findDrawings(patterns, outputs, { cwd: test.folder })).map(({ name, stem }) => [
      name,
      stem,
    ]);
  };

  it("keeps the folders below the common root, and leaves out what is asked to be", async () => {
    for (const folder of ["a/old", "b", "plans"]) await mkdir(at(folder), { recursive: true });
    for (const name of ["a/oar.svg", "a/old/oar.svg", "b/oar.svg", "plans/oar.planned.svg"])
      await test.write(name, FEATHER);
    const both = [
      ["a/oar.svg", "a/oar"],
      ["b/oar.svg", "b/oar"],
    ];
    expect(await names("**/*.svg", "!**/old/**")).toEqual(both);
    expect(await names("a/oar.svg", "b/oar.svg", "a/*.svg")).toEqual(both);
    expect(await names("a")).toEqual([
      ["oar.svg", "oar"],
      ["old/oar.svg", "old/oar"],
    ]);
  });

  it("gives outputs different names where drawings differ in their endings alone", async () => {
    for (const name of ["oar.svg", "oar.svgz", "Reed.svg", "reed.svg"]) await test.write(name, FEATHER);
    expect(await names(".")).toEqual([
      ["Reed.svg", "Reed.svg"],
      ["oar.svg", "oar.svg"],
      ["oar.svgz", "oar.svgz"],
      ["reed.svg", "reed.svg"],
    ]);
  });

  it("takes a name literally where there is such a file, whatever it would mean as a pattern", async () => {
    for (const name of ["[oar].svg", "o.svg", "*.svg"]) await test.write(name, FEATHER);
    expect(await names("[oar].svg")).toEqual([["[oar].svg", "[oar]"]]);
    expect(await names("*.svg")).toEqual([["*.svg", "*"]]);
  });

  it.each([
    ["batch oars/*.svg --out sewn", /^oars\/\*\.svg: there is no drawing of this name/],
    ["batch - --out sewn", /a batch does not read standard input/],
    ["batch oar.svg", /Missing required argument: out/],
    ["batch oar.svg --out sewn --fit 90", /--fit is "90"; give width x height in mm/],
    ["batch oar.svg --out sewn --fit 90x60 --width 80", /--width and --fit contradict one another/],
    ["batch oar.svg --out sewn --formats svg,gcode", /--formats names "gcode"; the formats are svg, json/],
    ["batch oar.svg --out sewn --jobs 0", /--jobs is "0"; give a whole number from 1/],
    ["batch oar.svg --out sewn --shard 9/8", /--shard is "9\/8"; give I\/N with I from 1 to N/],
    ["batch oar.svg --out oar.svg", /^oar\.svg: a part of this path is a file, not a folder/],
  ])("%s is refused in one line", async (words, line) => {
    await test.write("oar.svg", FEATHER);
    const { code, stdout, stderr } = await test.run(words);
    expect({ code, stdout }).toEqual({ code: 2, stdout: "" });
    expect(stderr).toMatch(line);
    expect(stderr.trimEnd().split("\n")).toHaveLength(1);
  });
});

const REQUEST: BatchRequest = {
  settings: DEFAULT_SETTINGS,
  below: {},
  above: {},
  threads: undefined,
  fit: undefined,
  formats: ["json"],
  fabricColour: undefined,
};
const MOODY = pathToFileURL(built("tests/support/moody-worker.js"));
/** No drawing takes as long, however busy the machine. */
const AMPLE_S = 60;
const nowhere = new Writable({ write: (_chunk, _encoding, done) => done() });

/** Runs a batch over the drawings of the folder with a worker that does what their names say. */
async function moodyBatch(request = REQUEST, afterListing = async () => {}, secondsPerDrawing = AMPLE_S) {
  const io = { stdin: Readable.from([]), stdout: nowhere, stderr: nowhere, cwd: test.folder };
  const drawings = await findDrawings(["*.svg"], [], io);
  await afterListing();
  const said: string[] = [];
  const progress: Progress = { step: () => {}, say: (line) => said.push(line), close: () => {} };
  const options = { folder: at("sewn"), threads: 1, secondsPerDrawing, redo: false, worker: MOODY };
  const { entries, kept } = await runBatch(drawings, request, options, progress, io);
  return { entries, kept, said: said.sort() };
}

const draw = async (...names: readonly string[]): Promise<void> => {
  for (const name of names) await test.write(name, FEATHER);
};

describe("a batch that is run again", { timeout: 60_000 }, () => {
  it("leaves what is done, and does what has changed or gone", async () => {
    await draw("feather.svg", "oar.svg", "reed.svg", "wave.svg");
    const first = await moodyBatch();
    expect(first.kept).toBe(0);
    expect(await moodyBatch()).toEqual({ ...first, kept: 4 });

    await test.write("reed.svg", REED);
    await unlink(at("sewn/plans/feather.json"));
    await writeFile(at("sewn/plans/wave.json"), "cut short");
    const { kept, entries } = await moodyBatch();
    expect(kept).toBe(1);
    expect(entries.map(({ status }) => status)).toEqual(Array(4).fill("planned"));
    expect(await test.text("sewn/plans/wave.json")).toBe("{}");
  });

  it("does all again where a setting, the threads or the formats have changed", async () => {
    await draw("feather.svg");
    const requests: BatchRequest[] = [
      REQUEST,
      { ...REQUEST, settings: { ...DEFAULT_SETTINGS, pullMm: 0.3 } },
      { ...REQUEST, threads: [{ name: "Heron Grey", code: "11", hex: "#7391a8" }] },
      { ...REQUEST, fit: { widthMm: 90, heightMm: 60 } },
      { ...REQUEST, fabricColour: "#14202b" },
      { ...REQUEST, formats: ["json", "csv"] },
    ];
    for (const request of requests) expect((await moodyBatch(request)).kept).toBe(0);
    expect((await moodyBatch(requests.at(-1))).kept).toBe(1);
  });
});

describe("what goes wrong with one drawing", { timeout: 60_000 }, () => {
  const failures = (entries: readonly ReportEntry[]) =>
    Object.fromEntries(
      entries.flatMap((entry) => (entry.status === "failed" ? [[entry.name, entry.message]] : [])),
    );

  it("a worker that hangs or dies is replaced, and the rest are planned", async () => {
    const names = ["a.svg", "dies.svg", "hangs-1.svg", "hangs-2.svg", "unsound.svg", "z.svg"];
    await draw(...names);
    // Long enough that on a busy machine none is ended that would have been done.
    const { entries, said } = await moodyBatch(REQUEST, undefined, 2);
    expect(entries.map(({ name }) => name)).toEqual(names);
    expect(failures(entries)).toEqual({
      "dies.svg": expect.stringMatching(/^its worker ended early/),
      "hangs-1.svg": expect.stringMatching(/^it took longer than 2 s to plan; simplify/),
      "hangs-2.svg": expect.stringMatching(/^it took longer than 2 s/),
      "unsound.svg": "Nothing in it can be sewn.",
    });
    expect(said).toHaveLength(4);
    expect(said[3]).toBe("unsound.svg: Nothing in it can be sewn.");
    expect(await filesIn("sewn/plans")).toEqual(["a.json", "z.json"]);
  });

  it("a drawing that is deleted, a full disk and a folder that is a file get a line each", async () => {
    await draw("deleted.svg", "full.svg", "oar.svg", "reed.svg");
    const { entries } = await moodyBatch(REQUEST, async () => {
      await rm(at("deleted.svg"));
      await mkdir(at(`sewn/plans/reed.json.${process.pid}.part`), { recursive: true });
      // Linux: every write to /dev/full fails for want of room.
      await symlink("/dev/full", at(`sewn/plans/full.json.${process.pid}.part`));
    });
    expect(failures(entries)).toEqual({
      "deleted.svg": expect.stringMatching(/^there is no such file/),
      "full.svg": "plans/full.json: the disk is full; make room and try again",
      "reed.svg": expect.stringMatching(/^plans\/reed\.json: it cannot be written/),
    });
    expect(await filesIn("sewn")).toEqual(["plans/oar.json", "records/oar.json", "thumbs/oar.png"]);
  });

  it("what an earlier run made of it is taken away", async () => {
    await draw("oar.svg");
    await moodyBatch();
    expect(await filesIn("sewn")).toContain("plans/oar.json");
    await test.write("oar.svg", REED);
    await mkdir(at(`sewn/thumbs/oar.png.${process.pid}.part`));
    const { entries } = await moodyBatch();
    expect(Object.keys(failures(entries))).toEqual(["oar.svg"]);
    expect(await filesIn("sewn")).toEqual([]);
  });
});

/** Words that are right or wrong by themselves, whatever is in the files. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { VERSION } from "../../cli/version.ts";
import { nearestName } from "../../core/nearest-name.ts";
import { here } from "./here.ts";

const test = here();

describe("help", () => {
  it.each([
    [
      "--help",
      [
        "plan <artwork>",
        "strip <planned>",
        "inspect <file>",
        "check <artwork>",
        "heron-crest.svg",
        "Exit codes",
      ],
    ],
    ["plan --help", ["--picture", "--in-place", "tuckMarginMm", "default 0.8", "-o, --out"]],
    ["strip --help", ["<planned>.stripped.svg", "byte for byte"]],
    ["inspect --help", ["--json"]],
    ["recipes --help", ["stable-woven", "--json", "how to sew on a towel"]],
    ["settings --help", ["--recipe", "--schema", "data-tuck-*"]],
    [
      "check --help",
      ["--recipe", "--threads", "--max-threads", "--fail-on", '[default: "warning"]', "tuckMarginMm"],
    ],
  ])("%s", async (words, parts) => {
    const { code, stdout, stderr } = await test.run(words);
    expect(code).toBe(0);
    expect(stderr).toBe("");
    for (const part of parts) expect(stdout).toContain(part);
    for (const line of stdout.split("\n")) expect(line.length, line).toBeLessThanOrEqual(100);
  });

  it("is what a bare call shows, as an error", async () => {
    const { code, stdout, stderr } = await test.run("");
    expect(code).toBe(2);
    expect(stdout).toBe("");
    expect(stderr).toContain("plan <artwork>");
    expect(stderr.trimEnd()).toMatch(/tuckline plan --help$/);
  });

  it("has the version of the package", async () => {
    const packageFile = readFileSync(new URL("../../package.json", import.meta.url), "utf8");
    expect(VERSION).toBe(JSON.parse(packageFile).version);
    expect((await test.run("--version")).stdout).toBe(`${VERSION}\n`);
  });
});

describe("bad usage", () => {
  it.each([
    ["plann crest.svg", 'there is no command "plann"; did you mean plan?'],
    ["sew crest.svg", 'there is no command "sew"; the commands are plan, strip, inspect, check'],
    ["crest.svg", 'there is no command "crest.svg"'],
    ["plan", "name a file to work on"],
    ["install", "name an editor; see tuckline install --help"],
    ["install crayon", "this cannot be chosen:"],
    ["plan crest.svg reeds.svg", '"reeds.svg" is one argument too many; see tuckline plan --help'],
    ["plan crest.svg --jsn x.json", 'there is no option "jsn"; did you mean --json?'],
    ["plan crest.svg --inplace", 'there is no option "inplace"; did you mean --in-place?'],
    ["plan crest.svg -x", 'there is no option "x"'],
    ["plan crest.svg --machin x", 'there is no option "machin"; did you mean --machine?'],
    ["plan crest.svg --machine", 'the option "machine" needs a value'],
    ["plan crest.svg --picture a.png --dpi 3in", '--dpi is "3in"; give a number from 10 to 4800'],
    ["plan crest.svg --picture a.svg --dpi 300", "--dpi is for .png"],
    ["plan crest.svg --picture a.png --until 0", '--until is "0"; give a whole number from 1'],
    ["plan crest.svg --picture a.png --frames 2.5", '--frames is "2.5"; give a whole number from 1 to 1000'],
    ["plan crest.svg --until 20", "--until is about the picture; name one with --picture"],
    ["plan crest.svg --sheet a.html --fabric linnen", '--fabric is "linnen"; give a colour of CSS'],
    ["plan crest.svg --machine a.dst --csv a.dst", "a.dst: two outputs cannot go to one place"],
    ["inspect crest.svg --picture a.png", "crest.svg: inspect draws machine files only"],
    ["inspect crest.svg -o a.svg", "crest.svg: inspect draws machine files only"],
    ["plan crest.svg -o", 'the option "o" needs a value'],
    ["plan crest.svg --json=", "--json needs a value"],
    ["plan crest.svg --fail-on never", '--fail-on is "never"; the choices are "info", "warning", "error"'],
    ["plan crest.svg --order backwards", '--order is "backwards"; the choices are "paint", "regroup"'],
    ["plan crest.svg --json a --json b", "--json is given twice; give it once"],
    ["plan crest.svg --set pull=1", 'there is no setting "pull"; did you mean "pullMm"?'],
    ["plan crest.svg --set pullMm=9", "pullMm is 9; give a number from 0 to 2 mm"],
    ["plan crest.svg --width 3in", 'widthMm is "3in"; give a number from 5 to 2000 mm'],
    ["plan crest.svg --picture crest.gif", "crest.gif: a picture is .png or .svg"],
    ["plan crest.svg --picture -", "-: a picture is .png or .svg"],
    ["plan crest.svg --in-place -o x.svg", "--in-place and --out contradict one another"],
    ["plan - --in-place", "standard input cannot be written in place"],
    ["plan - --settings -", "artwork and settings cannot both come from standard input"],
    ["plan - --threads -", "artwork and threads cannot both come from standard input"],
    ["check crest.svg --settings - --threads -", "settings and threads cannot both come from standard input"],
    ["settings - --settings -", "artwork and settings cannot both come from standard input"],
    [
      "plan crest.svg --recipe canvas",
      '--recipe is "canvas"; the choices are "stable-woven", "knit", "pile"',
    ],
    ["plan crest.svg --set recipe=canvas", 'recipe is "canvas"; give "stable-woven" or "knit"'],
    ["plan crest.svg --max-threads 0", "maxThreads is 0; give a whole number from 1 to 1000 threads"],
    ["plan crest.svg --max-threads few", 'maxThreads is "few"; give a whole number'],
    ["plan crest.svg --threads crest.json", "crest.json:1: there are 1 fields here and should be 3"],
    ["plan crest.svg --threads none.csv", "none.csv: there is no such file"],
    ["recipes knt", 'there is no recipe "knt"; did you mean knit?'],
    ["recipes linoleum", "the recipes are stable-woven, knit, pile, sheer, felt"],
    ["settings --recipe canvas", 'the choices are "stable-woven"'],
    ["plan crest.svg -o - --json -", "standard output: two outputs cannot go to one place"],
    ["plan crest.svg -o x.svg --picture ./x.svg", "./x.svg: two outputs cannot go to one place"],
    [
      "plan crest.svg --settings crest.json -o crest.json",
      "crest.json: this is an input, and inputs are kept",
    ],
    ["strip", "name a file to work on"],
    ["strip crest.svg --json x", 'there is no option "json"'],
    ["strip crest.svg --in-place --out x.svg", "--in-place and --out contradict one another"],
    ["strip - --in-place", "standard input cannot be written in place"],
    ["check crest.svg --in-place", 'there is no option "in-place"'],
    ["plan  crest.svg", "one of the arguments is empty"],
  ])("tuckline %s", async (words, message) => {
    await test.write("crest.svg", "<svg/>");
    await test.write("crest.json", "{}");
    const { code, stdout, stderr } = await test.run(words);
    expect({ code, stdout }).toEqual({ code: 2, stdout: "" });
    expect(stderr).toContain(message);
    expect(stderr.trimEnd().split("\n")).toHaveLength(1);
    expect(await test.files()).toEqual(["crest.json", "crest.svg"]);
  });
});

describe("the nearest name", () => {
  const names = ["pullMm", "tieCount", "runLengthMm"];
  it.each([
    ["pulMm", "pullMm"],
    ["PULLMM", "pullMm"],
    ["tiecuont", "tieCount"],
    ["runLength", "runLengthMm"],
    ["p", undefined],
    ["hoop", undefined],
    ["", undefined],
  ])("of %j is %s", (name, expected) => {
    expect(nearestName(name, names)).toBe(expected);
  });
});

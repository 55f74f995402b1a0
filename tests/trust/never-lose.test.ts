/**
 * No work is lost: whatever happens while outputs are written, each file is wholly the old one or wholly the new
 * one, and one line says what is wrong.
 */
import { type SpawnOptions, spawn, spawnSync } from "node:child_process";
import { appendFile, mkdir, readdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { beforeEach, describe, expect, it } from "vitest";
import { readInput } from "../../cli/input.ts";
import { targetAt, writeOutputs } from "../../cli/output.ts";
import { here } from "../cli/here.ts";
import { built } from "../support/built.ts";

const MAIN = built("bin/tuckline.js");
const WRITER = built("tests/support/write-files.js");
const STOPPER = built("tests/support/stop-at.js");

const FEATHER = `<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">
<path id="feather" fill="#4a6274" d="M4 4h10v10h-10z"/></svg>`;
const OLD = "what was there before";

const test = here();
const at = (name: string): string => join(test.folder, name);

interface Ended {
  /** The exit code, or the signal that ended it. */
  readonly end: number | string;
  readonly stderr: string;
}

function ended(command: string, words: readonly string[], options: SpawnOptions = {}): Promise<Ended> {
  return new Promise((resolve, reject) => {
    const child = spawn(command, words, {
      cwd: test.folder,
      ...options,
      stdio: ["ignore", "ignore", "pipe"],
    });
    let stderr = "";
    child.stderr?.on("data", (chunk) => {
      stderr += chunk;
    });
    child.on("error", reject);
    child.on("close", (code, signal) => resolve({ end: signal ?? code ?? -1, stderr }));
  });
}

const tuckline = (words: string): Promise<Ended> => ended(process.execPath, [MAIN, ...words.split(" ")]);

/** What a file holds: one letter over and over, the old text, or anything else. */
async function stateOf(name: string): Promise<string> {
  const text = await test.text(name);
  if (text === OLD) return "old";
  return text === text[0]?.repeat(50_000) ? text[0] : `torn: ${text.length} characters`;
}

describe("ended while it writes", { timeout: 60_000 }, () => {
  const NAMES = ["crest.svg", "crest.json"] as const;

  // Steps: two files are written; of each the old one is kept and the new one put in place; kept ones are taken away.
  const stoppedAt = async (step: number, signal: string, program: readonly string[]): Promise<Ended> => {
    for (const name of NAMES) await test.write(name, OLD);
    return ended(process.execPath, ["--import", STOPPER, ...program], {
      env: { ...process.env, TUCKLINE_STOP_AT: String(step), TUCKLINE_SIGNAL: signal },
    });
  };

  it.each([
    ["a file is half written", 2, ["old", "old"]],
    ["the first is to take its place", 4, ["old", "old"]],
    ["the first has taken its place, the second has not", 6, ["n", "old"]],
    ["the old ones are to be taken away", 7, ["n", "n"]],
    ["all is done", 9, ["n", "n"]],
  ])("by SIGKILL when %s: every file is whole", async (_when, step, states) => {
    const { end } = await stoppedAt(step, "SIGKILL", [WRITER, "n", ...NAMES]);
    expect(end).toBe(step === 9 ? 0 : "SIGKILL");
    expect(await Promise.all(NAMES.map(stateOf))).toEqual(states);
  });

  it.each([
    ["SIGINT", 1],
    ["SIGTERM", 4],
  ])("by %s: the end waits until all is written, and nothing is left", async (signal, step) => {
    await test.write("oar.svg", FEATHER);
    const plan = `plan oar.svg -o ${NAMES[0]} --json ${NAMES[1]} --quiet`;
    expect((await stoppedAt(step, signal, [MAIN, ...plan.split(" ")])).end).toBe(signal);
    expect(await test.text(NAMES[0])).toContain('data-tuck-role="findings"');
    expect(JSON.parse(await test.text(NAMES[1])).format).toBe("tuckline-plan");
    expect(await test.files()).toEqual([...NAMES, "oar.svg"].sort());
  });
});

describe("a disk that is full", { timeout: 60_000 }, () => {
  /** POSIX: a process may be kept from writing files longer than so many blocks of 512 bytes. */
  const limited = (program: readonly string[]): Promise<Ended> =>
    ended("sh", ["-c", `trap '' XFSZ; ulimit -f 1; exec "$@"`, "sh", process.execPath, ...program]);

  it.each([
    ["any command", [WRITER, "n", "crest.svg", "out.json"]],
    ["plan --in-place", [MAIN, "plan", "crest.svg", "--in-place", "--quiet"]],
  ])("%s keeps all that was there", async (_what, program) => {
    await test.write("crest.svg", FEATHER);
    await test.write("out.json", OLD);
    expect(await limited(program)).toEqual({
      end: 2,
      stderr: "crest.svg: it is larger than files may be here; name an output elsewhere\n",
    });
    expect(await test.text("crest.svg")).toBe(FEATHER);
    expect(await test.text("out.json")).toBe(OLD);
    expect(await test.files()).toEqual(["crest.svg", "out.json"]);
  });

  it("says so where the summary cannot be passed on, after the files are written", async () => {
    await test.write("crest.svg", FEATHER);
    // Linux: every write to /dev/full fails for want of room.
    const { end, stderr } = await ended("sh", [
      "-c",
      `exec "$@" > /dev/full`,
      "sh",
      process.execPath,
      MAIN,
      "plan",
      "crest.svg",
    ]);
    expect({ end, stderr }).toEqual({
      end: 2,
      stderr: "tuckline: the output cannot be passed on (ENOSPC); check where it goes\n",
    });
    expect(await test.files()).toContain("crest.planned.svg");
  });
});

/** A file system of its own for one command (Linux, unshare(1)); where that is not allowed, these say so by name. */
const mayMount =
  spawnSync("unshare", ["-rm", "sh", "-c", "mount -t tmpfs -o size=64k none /mnt"], { stdio: "ignore" })
    .status === 0;

describe(`a small or read-only file system${mayMount ? "" : " (NOT RUN: unshare -rm is not allowed)"}`, {
  timeout: 60_000,
}, () => {
  /** Runs a program where `mount` has been done, then `look`; the exit code is the program's. */
  const mounted = (mount: string, program: readonly string[], look = ":"): Promise<Ended> =>
    ended("unshare", [
      "-rm",
      "sh",
      "-c",
      `${mount} && { "$@"; code=$?; ${look}; exit $code; }`,
      "sh",
      process.execPath,
      ...program,
    ]);
  const READ_ONLY = "mount --bind small small && mount -o remount,ro,bind small";

  if (!mayMount) {
    it("is not tried without it", () => {
      if (process.env.CI) throw new Error("unshare -rm is not allowed: run where user namespaces are");
      console.warn("Not run: full and read-only file systems, since unshare -rm is not allowed.");
    });
    return;
  }

  beforeEach(async () => {
    await test.write("crest.svg", FEATHER);
    await mkdir(at("small"));
  });

  it("of which one is full: one line, and what was there is left alone", async () => {
    const { end, stderr } = await mounted(
      "mount -t tmpfs -o size=16k none small && echo old > small/crest.svg",
      [WRITER, "n", "small/crest.json", "small/crest.svg"],
      "cat small/crest.svg >&2; ls -A small >&2",
    );
    expect({ end, stderr }).toEqual({
      end: 2,
      stderr: "small/crest.json: the disk is full; make room and try again\nold\ncrest.svg\n",
    });
  });

  it.each(["small/crest.svg", "small/made/crest.svg"])("%s, where all is read-only", async (name) => {
    await test.write("small/crest.svg", OLD);
    expect(await mounted(READ_ONLY, [WRITER, "n", "crest.svg", name])).toEqual({
      end: 2,
      stderr: `${name}: this folder may not be written to; name an output elsewhere\n`,
    });
    expect(await test.text("small/crest.svg")).toBe(OLD);
    expect(await test.text("crest.svg")).toBe(FEATHER);
  });

  it("batch, on a full one: a line each, what has room is done, and the report's own line", async () => {
    for (const name of ["a heron's.svg", "🪶.svg"]) await test.write(name, FEATHER);
    const { end, stderr } = await mounted("mount -t tmpfs -o size=8k none small", [
      MAIN,
      ..."batch *.svg --out small --formats json --jobs 1 --quiet".split(" "),
    ]);
    expect(end).toBe(2);
    const lines = stderr.trimEnd().split("\n");
    expect(lines.filter((line) => /the disk is full; make room and try again$/.test(line))).toHaveLength(
      lines.length,
    );
    expect(lines.length).toBeGreaterThan(2);
  });

  it("batch, where all is read-only, ends before anything is planned", async () => {
    const { end, stderr } = await mounted(READ_ONLY, [MAIN, "batch", "crest.svg", "--out", "small"]);
    expect({ end, stderr }).toEqual({
      end: 2,
      stderr: "small: this folder may not be written to; name an output elsewhere\n",
    });
  });
});

describe("a file that another program changes meanwhile", () => {
  const io = () => ({
    stdin: process.stdin,
    stdout: process.stdout,
    stderr: process.stderr,
    cwd: test.folder,
  });

  it("is not written over in place", async () => {
    await test.write("crest.svg", FEATHER);
    const input = await readInput("crest.svg", io());
    const target = await targetAt("crest.svg", { inputs: [], force: false, expected: input.version }, io());
    await appendFile(at("crest.svg"), "<!-- a reed more -->");
    await expect(writeOutputs([{ target, bytes: Buffer.from("planned") }], io())).rejects.toThrow(
      "crest.svg: another program has changed it since it was read; do this again",
    );
    expect(await test.text("crest.svg")).toContain("a reed more");
    expect(await test.files()).toEqual(["crest.svg"]);
  });

  it("nor is one that comes into being where there was to be none", async () => {
    const target = await targetAt("crest.svg", { inputs: [], force: false, expected: null }, io());
    await test.write("crest.svg", FEATHER);
    await expect(writeOutputs([{ target, bytes: Buffer.from("new") }], io())).rejects.toThrow(
      "another program",
    );
    expect(await test.text("crest.svg")).toBe(FEATHER);
    expect(await test.files()).toEqual(["crest.svg"]);
  });

  it("is put back where a later output fails, even if it was not there at first", async () => {
    const rules = { inputs: [], force: false };
    const [one, other] = [await targetAt("a.svg", rules, io()), await targetAt("b.json", rules, io())];
    await test.write("a.svg", FEATHER);
    await mkdir(at("b.json"));
    await writeFile(at("b.json/in-the-way"), "");
    const bytes = Buffer.from("new");
    await expect(
      writeOutputs(
        [
          { target: one, bytes },
          { target: other, bytes },
        ],
        io(),
      ),
    ).rejects.toThrow("b.json: ");
    expect(await test.text("a.svg")).toBe(FEATHER);
  });
});

describe("two processes that write the same files", { timeout: 60_000 }, () => {
  it("leave each file whole, and nothing beside", async () => {
    const names = ["out.svg", "out.json", "out.dst"];
    const all = await Promise.all(
      ["a", "b", "c", "d"].map((letter) => ended(process.execPath, [WRITER, letter, ...names])),
    );
    expect(all).toEqual(Array(4).fill({ end: 0, stderr: "" }));
    for (const name of names) expect(await stateOf(name)).toMatch(/^[abcd]$/);
    expect(await test.files()).toEqual(names.sort());
  });

  it("nor do two batches into one folder", async () => {
    for (const name of ["heron.svg", "oar.svg", "reed.svg"]) await test.write(name, FEATHER);
    const words = "batch *.svg --out sewn --formats json,svg --jobs 1 --quiet";
    const both = await Promise.all([tuckline(words), tuckline(words)]);
    expect(both.map(({ end, stderr }) => [end, stderr])).toEqual(Array(2).fill([0, ""]));
    const files = await readdir(at("sewn"), { recursive: true });
    expect(files.filter((name) => name.endsWith(".part"))).toEqual([]);
    // What they tell of is there: nothing has to be planned again.
    const again = await test.run(words.replace(" --quiet", ""));
    expect(again.stdout).toMatch(/planned +3 +3 of them before/);
  });
});

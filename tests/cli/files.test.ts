/** Reading and writing files: encodings, what is refused, and that outputs are written whole or not at all. */
import {
  chmod,
  link,
  mkdir,
  mkdtemp,
  readdir,
  readFile,
  rm,
  stat,
  symlink,
  writeFile,
} from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Readable, Writable } from "node:stream";
import { gunzipSync, gzipSync } from "node:zlib";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { encode, readInput } from "../../cli/input.ts";
import { type Io, STANDARD } from "../../cli/io.ts";
import { drawingBytes, type Output, refuseSharedTargets, targetAt, writeOutputs } from "../../cli/output.ts";

const SVG = '<svg xmlns="http://www.w3.org/2000/svg"><title>Schilf–ä</title></svg>\r\n';

let cwd: string;
let piped: Buffer[];
let io: Io;
beforeEach(async () => {
  cwd = await mkdtemp(join(tmpdir(), "tuckline-"));
  piped = [];
  const stdout = new Writable({
    write(chunk, _encoding, done) {
      piped.push(chunk);
      done();
    },
  });
  io = { stdin: Readable.from([]), stdout, stderr: stdout, cwd };
});
afterEach(() => rm(cwd, { recursive: true, force: true }));

const at = (name: string) => join(cwd, name);
const text = (name: string) => readFile(at(name), "utf8");

describe("reading", () => {
  it.each([
    ["utf-8", Buffer.from(SVG)],
    ["utf-8", Buffer.from(`\ufeff${SVG}`)],
    ["utf-16le", Buffer.from(`\ufeff${SVG}`, "utf16le")],
    ["utf-16be", Buffer.from(`\ufeff${SVG}`, "utf16le").swap16()],
    ["iso-8859-1", Buffer.from(`<?xml version="1.0" encoding="ISO-8859-1"?><svg id="Möwe"/>`, "latin1")],
  ] as const)("a drawing in %s comes back as the same bytes", async (encoding, bytes) => {
    await writeFile(at("crest.svg"), bytes);
    const input = await readInput("crest.svg", io);
    expect(input.encoding).toBe(encoding);
    expect(input.text).toMatch(/Schilf–ä|Möwe/);
    expect(encode(input.text, input.encoding).equals(bytes)).toBe(true);
  });

  it("opens a gzipped drawing, and keeps it gzipped where it is written over", async () => {
    await writeFile(at("crest.svgz"), gzipSync(SVG));
    const input = await readInput("crest.svgz", io);
    expect(input.text).toBe(SVG);
    const inPlace = await targetAt("crest.svgz", { inputs: [], force: false }, io);
    const beside = await targetAt("crest.planned.svg", { inputs: [input], force: false }, io);
    expect(gunzipSync(drawingBytes(SVG, inPlace, input)).toString()).toBe(SVG);
    expect(Buffer.from(drawingBytes(SVG, beside, input)).toString()).toBe(SVG);
  });

  it("reads standard input, piece by piece, cut within a character", async () => {
    const bytes = Buffer.from(SVG);
    const middle = bytes.indexOf("–") + 1;
    const stdin = Readable.from([bytes.subarray(0, middle), bytes.subarray(middle)]);
    const input = await readInput(STANDARD, { ...io, stdin });
    expect(input).toMatchObject({ text: SVG, name: "standard input", path: undefined });
  });

  it("calls a drawing by its own name wherever it lies", async () => {
    await mkdir(at("club"));
    await writeFile(at("club/crest.svg"), SVG);
    expect(await readInput("club/crest.svg", io)).toMatchObject({
      shown: "club/crest.svg",
      name: "crest.svg",
    });
  });

  it.each([
    ["missing.svg", null, "missing.svg: there is no such file"],
    ["crest.svg/deeper.svg", SVG, "there is no such file"],
    [".", null, ".: this is a folder; name a file in it"],
    ["crest.svg", Buffer.from("<svg>\n  <g id='\xff'/>", "latin1"), "crest.svg:2:10: this is not UTF-8 text"],
    ["crest.svg", Buffer.from([0xff, 0xfe, 0x00, 0xd8]), "crest.svg:1:2: this is not UTF-16LE text"],
    ["crest.svg", Buffer.from([0x89, 0x50, 0x4e, 0x47]), "crest.svg:1:1: this is not UTF-8 text"],
    ["crest.svg", Buffer.from([0x1f, 0x8b, 1, 2, 3]), "crest.svg: its gzip compression is damaged"],
    [
      "crest.svg",
      gzipSync(Buffer.alloc(65 * 1024 * 1024)),
      "crest.svg: more than 64 MB; simplify the drawing",
    ],
  ])("refuses %s", async (name, bytes, message) => {
    if (bytes !== null) await writeFile(at("crest.svg"), bytes);
    await expect(readInput(name, io)).rejects.toThrow(message);
  });

  it("does not wait for a pipe that nobody writes to", async () => {
    await expect(readInput("/dev/null", io)).rejects.toThrow("/dev/null: this is not a file; pipe it in");
  });
});

describe("where an output may go", () => {
  const rules = (inputs: Parameters<typeof targetAt>[1]["inputs"] = []) => ({ inputs, force: false });

  it("never over an input: not by its name, by a way round, by a link, by a second name", async () => {
    await writeFile(at("crest.svg"), SVG);
    await symlink("crest.svg", at("soft.svg"));
    await link(at("crest.svg"), at("hard.svg"));
    const input = await readInput("crest.svg", io);
    for (const name of ["crest.svg", "./x/../crest.svg", at("crest.svg"), "soft.svg", "hard.svg"])
      await expect(targetAt(name, rules([input]), io), name).rejects.toThrow(
        "this is an input, and inputs are kept; name another output or say --in-place",
      );
  });

  it("not to a folder, and to a write-protected file only by force", async () => {
    await writeFile(at("kept.svg"), SVG);
    await chmod(at("kept.svg"), 0o444);
    await expect(targetAt(".", rules(), io)).rejects.toThrow("this is a folder");
    await expect(targetAt("kept.svg", rules(), io)).rejects.toThrow("write-protected");
    expect((await targetAt("kept.svg", { inputs: [], force: true }, io)).path).toMatch(/kept\.svg$/);
  });

  it("not two to one place", async () => {
    const a = await targetAt("a.svg", rules(), io);
    const again = await targetAt("./a.svg", rules(), io);
    expect(() => refuseSharedTargets([a, again])).toThrow("two outputs cannot go to one place");
  });
});

describe("writing", () => {
  const outputs = (files: Record<string, string>): Promise<Output[]> =>
    Promise.all(
      Object.entries(files).map(async ([name, content]) => ({
        target: await targetAt(name, { inputs: [], force: false }, io),
        bytes: Buffer.from(content),
      })),
    );

  it("makes missing folders, replaces what was there, keeps its permissions, leaves nothing else", async () => {
    await writeFile(at("b.json"), "old");
    await chmod(at("b.json"), 0o640);
    await writeOutputs(await outputs({ "out/deep/a.svg": "new a", "b.json": "new b" }), io);
    expect(await text("out/deep/a.svg")).toBe("new a");
    expect(await text("b.json")).toBe("new b");
    expect((await stat(at("b.json"))).mode & 0o777).toBe(0o640);
    expect(await readdir(cwd)).toEqual(["b.json", "out"]);
    expect(await readdir(at("out/deep"))).toEqual(["a.svg"]);
  });

  it("writes through a link to the file that it points to", async () => {
    await writeFile(at("real.svg"), "old");
    await symlink("real.svg", at("link.svg"));
    await writeOutputs(await outputs({ "link.svg": "new" }), io);
    expect(await text("real.svg")).toBe("new");
  });

  it("writes to a device without replacing it", async () => {
    await writeOutputs(await outputs({ "/dev/null": "new" }), io);
    expect((await stat("/dev/null")).isCharacterDevice()).toBe(true);
  });

  it("writes files and passes on at once; none of them where the reader's disk is full", async () => {
    await writeOutputs(await outputs({ "-": "to the pipe", "a.svg": "new" }), io);
    expect(Buffer.concat(piped).toString()).toBe("to the pipe");
    expect(await text("a.svg")).toBe("new");

    const full = new Writable({
      write: (_chunk, _encoding, done) => done(Object.assign(new Error("full"), { code: "ENOSPC" })),
    }).on("error", () => undefined);
    const both = await outputs({ "a.svg": "newer", "-": "to the pipe" });
    await expect(writeOutputs(both, { ...io, stdout: full })).rejects.toThrow("cannot be passed on (ENOSPC)");
    expect(await text("a.svg")).toBe("new");
    expect(await readdir(cwd)).toEqual(["a.svg"]);
  });

  it("leaves every file as it was where one cannot be written", async () => {
    await writeFile(at("a.svg"), "old");
    await writeFile(at("wall"), "a file");
    const both = await outputs({ "a.svg": "new", "-": "to the pipe" });
    const blocked = { shown: "wall/b.json", path: at("wall/b.json"), existing: undefined };
    const all = [...both, { target: blocked, bytes: Buffer.from("b") }];
    await expect(writeOutputs(all, io)).rejects.toThrow("wall/b.json: a part of this path is a file");
    expect(await text("a.svg")).toBe("old");
    expect(piped).toEqual([]);
    expect(await readdir(cwd)).toEqual(["a.svg", "wall"]);
  });

  it("puts files back that had taken their places before a later one failed", async () => {
    await writeFile(at("a.svg"), "old");
    const all = await outputs({ "a.svg": "new", "made/c.svg": "new", "b.json": "new" });
    // Something took the last place in between: a rename onto a full folder fails.
    await mkdir(at("b.json"));
    await writeFile(at("b.json/in-the-way"), "");
    await expect(writeOutputs(all, io)).rejects.toThrow("b.json: ");
    expect(await text("a.svg")).toBe("old");
    expect(await readdir(cwd)).toEqual(["a.svg", "b.json"]);
  });
});

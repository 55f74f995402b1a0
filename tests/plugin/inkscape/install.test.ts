/** Putting the plugin into Inkscape's folder and taking it out again, and the scripts that start it. */
import { spawnSync } from "node:child_process";
import { mkdir, mkdtemp, readdir, readFile, rm, stat, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { inkscapeExtensions } from "../../../cli/install/folders.ts";
import { inkscapePlugin } from "../../../cli/install/inkscape.ts";
import { putPlugin } from "../../../cli/install/plugin-folder.ts";
import { run } from "../../../cli/run.ts";
import { VERSION } from "../../../cli/version.ts";
import { BUNDLE, bundleInto } from "../../../plugin/hosts/inkscape/bundle.ts";
import { ENTRIES } from "../../../plugin/hosts/inkscape/entries.ts";
import { extensionId } from "../../../plugin/hosts/inkscape/inx.ts";
import { parseDom } from "../../support/dom.ts";
import { CREST } from "./drawings.ts";
import { inInkscape } from "./inkscape.ts";
import { quietIo } from "./quiet-io.ts";

const MENU_FILES = ENTRIES.map(({ name }) => `${name}.inx`);
const FILES = [
  ...MENU_FILES,
  "installed.json",
  "licences.txt",
  "node-path",
  "program.cache",
  "program.cjs",
  "tuckline.cjs",
  "tuckline.cmd",
  "tuckline.sh",
].sort();

let folder = "";
let bytes = 0;
beforeAll(async () => {
  bytes = await bundleInto(BUNDLE);
}, 60_000);
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "heron-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const plugin = () => join(folder, "extensions", "tuckline");
async function command(words: string): Promise<{ code: number; out: string; err: string }> {
  const io = quietIo(folder);
  const code = await run(words.split(" "), io);
  return { code, ...io.said };
}

describe("tuckline install inkscape", () => {
  it("puts the plugin into the folder that is named, and says so", async () => {
    const { code, out, err } = await command("install inkscape --to extensions");
    expect({ code, err }).toEqual({ code: 0, err: "" });
    expect(out).toContain(`Tuckline ${VERSION} is installed in ${plugin()}.\n`);
    expect((await readdir(plugin())).sort()).toEqual(FILES);
    expect((await stat(join(plugin(), "tuckline.sh"))).mode & 0o111).toBe(0o111);
  });

  it("is a program of at most 2 MB beside the scripts that start it", () => {
    expect(bytes).toBeLessThan(2_000_000);
  });

  it("may be done twice, and over another version whose files were others", async () => {
    const old = [
      { name: "before.inx", bytes: Buffer.from("<x/>") },
      { name: "tuckline.cjs", bytes: Buffer.from("old") },
    ];
    await putPlugin(plugin(), old, "0.0.9", quietIo(folder));
    expect((await command("install inkscape --to extensions")).out).toContain("over version 0.0.9.\n");
    expect((await readdir(plugin())).sort()).toEqual(FILES);
    expect((await command("install inkscape --to extensions")).out).toContain(`over version ${VERSION}.\n`);
    expect((await readdir(plugin())).sort()).toEqual(FILES);
  });

  it("leaves a folder alone that somebody else made", async () => {
    await mkdir(plugin(), { recursive: true });
    await writeFile(join(plugin(), "notes.txt"), "oars");
    const { code, err } = await command("install inkscape --to extensions");
    expect(code).toBe(2);
    expect(err).toBe(
      `${plugin()}: this folder holds files that Tuckline did not put there; move them away, or give another with --to\n`,
    );
    expect(await readdir(plugin())).toEqual(["notes.txt"]);
  });
});

describe("tuckline uninstall inkscape", () => {
  it("takes out what was put there, and the folder with it", async () => {
    await command("install inkscape --to extensions");
    const { code, out } = await command("uninstall inkscape --to extensions");
    expect({ code, out }).toEqual({ code: 0, out: `Tuckline ${VERSION} is removed from ${plugin()}.\n` });
    expect(await readdir(join(folder, "extensions"))).toEqual([]);
  });

  it("leaves what others put there, and tells of it", async () => {
    await command("install inkscape --to extensions");
    await writeFile(join(plugin(), "notes.txt"), "oars");
    expect((await command("uninstall inkscape --to extensions")).out).toContain(
      "Still there, since Tuckline did not put it there: notes.txt",
    );
    expect(await readdir(plugin())).toEqual(["notes.txt"]);
  });

  it("removes nothing outside its folder, whatever the list there says", async () => {
    await mkdir(plugin(), { recursive: true });
    await writeFile(join(folder, "crest.svg"), CREST);
    await writeFile(join(plugin(), "installed.json"), '{ "version": "1", "files": ["../../crest.svg"] }');
    expect((await command("uninstall inkscape --to extensions")).out).toContain("nothing was removed");
    expect(await readFile(join(folder, "crest.svg"), "utf8")).toBe(CREST);
  });

  it("says where nothing is installed", async () => {
    expect((await command("uninstall inkscape --to extensions")).out).toContain("is not installed in");
  });
});

describe("where Inkscape looks for extensions", () => {
  // Windows and macOS: from Inkscape's own documentation of its user folders, from memory.
  it.each([
    ["linux", {}, "/home/ida", "/home/ida/.config/inkscape/extensions"],
    ["linux", { XDG_CONFIG_HOME: "/cfg" }, "/home/ida", "/cfg/inkscape/extensions"],
    ["linux", { INKSCAPE_PROFILE_DIR: "/club" }, "/home/ida", "/club/extensions"],
    [
      "darwin",
      {},
      "/Users/ida",
      "/Users/ida/Library/Application Support/org.inkscape.Inkscape/config/inkscape/extensions",
    ],
    [
      "win32",
      { APPDATA: "C:\\Users\\ida\\AppData\\Roaming" },
      "C:\\Users\\ida",
      "C:\\Users\\ida\\AppData\\Roaming\\inkscape\\extensions",
    ],
  ] as const)("on %s, with %j", (platform, env, home, expected) => {
    expect(inkscapeExtensions({ platform, env, home })).toBe(expected);
  });
});

inInkscape("where Inkscape itself says that it looks", () => {
  it.each([{}, { XDG_CONFIG_HOME: "cfg" }, { INKSCAPE_PROFILE_DIR: "club" }])("with %j", (names) => {
    const env = Object.fromEntries(Object.entries(names).map(([name, value]) => [name, join(folder, value)]));
    const bare = { PATH: process.env.PATH, HOME: folder, ...env };
    const said = spawnSync("inkscape", ["--user-data-directory"], { env: bare, encoding: "utf8" });
    expect(inkscapeExtensions({ platform: "linux", env, home: folder })).toBe(
      join(said.stdout.trim(), "extensions"),
    );
  });
});

describe("the menu entries", () => {
  it("are well-formed, each of its own id, and start the script that runs on the computer", async () => {
    for (const [platform, script] of [
      ["linux", "tuckline.sh"],
      ["win32", "tuckline.cmd"],
    ] as const) {
      const files = await inkscapePlugin(BUNDLE, platform, "/usr/bin/node");
      const menu = files.filter(({ name }) => name.endsWith(".inx"));
      const read = menu.map(({ bytes }) => parseDom(Buffer.from(bytes).toString()).documentElement);
      expect(read.map((root) => root.querySelector("command")?.textContent)).toEqual(menu.map(() => script));
      expect(read.map((root) => root.querySelector("id")?.textContent).sort()).toEqual(
        ENTRIES.map(({ name }) => extensionId(name)).sort(),
      );
    }
  });
});

describe("the script that starts the plugin", () => {
  /** Runs it where a Node of this version, or none, is what can be found. */
  async function startedWith(
    version: string | null,
  ): Promise<{ status: number | null; out: string; err: string }> {
    await command("install inkscape --to extensions");
    const node = join(folder, "node");
    const says = `#!/bin/sh\n[ "$1" = --version ] && echo ${version} && exit\necho "$@"\n`;
    if (version !== null) await writeFile(node, says, { mode: 0o755 });
    await writeFile(join(plugin(), "node-path"), `${node}\n`);
    // The folders that it looks into besides are those of the computer: a list of its own stands in for them.
    const script = (await readFile(join(plugin(), "tuckline.sh"), "utf8")).replaceAll(
      /\/(usr\/local|opt\/homebrew|usr)\/bin\/node/g,
      "/nowhere/node",
    );
    await writeFile(join(plugin(), "tuckline.sh"), script);
    const tools = join(folder, "tools");
    await mkdir(tools);
    for (const tool of ["dirname", "cat"])
      await writeFile(join(tools, tool), `#!/bin/sh\nexec /usr/bin/${tool} "$@"\n`, { mode: 0o755 });
    const env = { PATH: tools, HOME: folder };
    const { status, stdout, stderr } = spawnSync(
      "/bin/sh",
      [join(plugin(), "tuckline.sh"), "--entry=plan", "a b.svg"],
      {
        env,
        encoding: "utf8",
      },
    );
    return { status, out: stdout, err: stderr };
  }

  it.each(["v20.19.0", "v20.20.2", "v22.1.0", "v100.0.0"])("takes Node %s", async (version) => {
    const { status, out } = await startedWith(version);
    expect({ status, out }).toEqual({
      status: 0,
      out: `${join(plugin(), "tuckline.cjs")} --entry=plan a b.svg\n`,
    });
  });

  it.each(["v18.20.4", "v20.18.3", "v9.11.2"])("says of Node %s that it is too old", async (version) => {
    const { status, out, err } = await startedWith(version);
    expect({ status, out }).toEqual({ status: 1, out: "" });
    expect(err).toBe(
      `Tuckline needs Node 20.19 or later, and finds only Node ${version.slice(1)}: install a newer one from nodejs.org, and run "tuckline install inkscape" again.\n`,
    );
  });

  it("says where there is no Node", async () => {
    const { status, err } = await startedWith(null);
    expect(status).toBe(1);
    expect(err).toMatch(/^Tuckline needs Node 20\.19 or later, and finds none on this computer: .+\n$/);
  });

  it("needs no package: the plugin runs from a folder by itself", async () => {
    await command("install inkscape --to extensions");
    await writeFile(join(folder, "crest.svg"), CREST);
    const { status, stdout, stderr } = spawnSync(
      join(plugin(), "tuckline.sh"),
      ["--id=pennant", "--entry=plan", join(folder, "crest.svg")],
      { encoding: "utf8", cwd: folder },
    );
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
    expect(stdout).toContain('data-tuck-role="stitches"');
  });

  it("keeps the program compiled from its first plan on, which changes nothing but the time", async () => {
    await command("install inkscape --to extensions");
    await writeFile(join(folder, "crest.svg"), CREST);
    const plan = () =>
      spawnSync(join(plugin(), "tuckline.sh"), ["--entry=plan", join(folder, "crest.svg")], {
        encoding: "utf8",
      }).stdout;
    const first = plan();
    const kept = await stat(join(plugin(), "program.cache"));
    expect(kept.size).toBeGreaterThan(100_000);
    expect(plan()).toBe(first);
    expect((await stat(join(plugin(), "program.cache"))).mtimeMs).toBe(kept.mtimeMs);
    // Another Node compiles otherwise, as does this one with another option for its engine.
    const words = ["--no-opt", join(plugin(), "tuckline.cjs"), "--entry=plan", join(folder, "crest.svg")];
    expect(spawnSync(process.execPath, words, { encoding: "utf8" })).toMatchObject({
      stdout: first,
      stderr: "",
    });
    expect((await stat(join(plugin(), "program.cache"))).mtimeMs).toBeGreaterThan(kept.mtimeMs);
    await command("uninstall inkscape --to extensions");
    expect(await readdir(join(folder, "extensions"))).toEqual([]);
  });

  it("tells in one line why nothing is done, and gives no drawing back", async () => {
    await command("install inkscape --to extensions");
    await writeFile(join(folder, "crest.svg"), "<svg><g></svg>");
    const { status, stdout, stderr } = spawnSync(
      join(plugin(), "tuckline.sh"),
      ["--entry=plan", join(folder, "crest.svg")],
      { encoding: "utf8" },
    );
    expect({ status, stdout }).toEqual({ status: 1, stdout: "" });
    expect(stderr).toMatch(/^Tuckline: Not well-formed XML: .+\.\n$/);
  });
});

/** `tuckline edit` on the command line: what it prints, and what it says of what it cannot open. */
import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { here } from "../cli/here.ts";

const FEATHER = `<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm"><path d="M4 4h10v10z"/></svg>`;

const test = here();

describe("tuckline edit", () => {
  it("prints an address with the session's token, and how to end", async () => {
    await test.write("crest.svg", FEATHER);
    const { code, stdout, stderr } = await test.run("edit crest.svg --no-open");
    expect({ code, stderr }).toEqual({ code: 0, stderr: "" });
    // 24 random bytes: RFC 4648, base64url.
    expect(stdout).toMatch(
      /^Tuckline is at http:\/\/127\.0\.0\.1:\d+\/#token=[\w-]{32}\nEnd it with Ctrl-C\.\n$/,
    );
  });

  it("gives every session another token", async () => {
    const tokens = new Set<string | undefined>();
    for (let k = 0; k < 3; k++)
      tokens.add(/token=(\S+)/.exec((await test.run("edit --no-open")).stdout)?.[1]);
    expect(tokens.size).toBe(3);
  });

  const refusals: [string, string][] = [
    ["edit heron.svg", "heron.svg: there is no such file"],
    ["edit nowhere/heron.svg", "there is no such folder; name another"],
    ["edit notes.txt", "notes.txt: only drawings are opened and saved here; end the name in .svg"],
    ["edit -", "edit saves to a file, not to standard output; name a file"],
    ["edit crest.svg --port 0", "--port is 0; give a number from 1 to 65535"],
    ["edit crest.svg --port 80x", "--port is 80x; give a number from 1 to 65535"],
    ["edit crest.svg --port 99999", "--port is 99999; give a number from 1 to 65535"],
    ["edit crest.svg --recipe sail", "--recipe is"],
    ["edit crest.svg --set tuckMarginMm=-1", "tuckMarginMm"],
    ["edit folder.svg", "this is a folder; name a file in it"],
    ["edit binary.svg", "this is not UTF-8 text"],
  ];

  it.each(refusals)("refuses `%s` in one line", async (words, message) => {
    await test.write("crest.svg", FEATHER);
    await test.write("notes.txt", "oars");
    await test.write("binary.svg", Buffer.from([0x3c, 0x73, 0xff, 0xfe, 0x00]));
    await mkdir(join(test.folder, "folder.svg"));
    const { code, stdout, stderr } = await test.run(`${words} --no-open`);
    expect({ code, stdout }).toEqual({ code: 2, stdout: "" });
    expect(stderr).toContain(message);
    expect(stderr.trimEnd().split("\n")).toHaveLength(1);
  });
});

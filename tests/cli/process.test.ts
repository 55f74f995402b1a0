/** The command as a process of its own: exit codes, streams, and that nobody ever sees a stack trace. */
import { spawn } from "node:child_process";
import { describe, expect, it } from "vitest";
import { run } from "../../cli/run.ts";
import { built } from "../support/built.ts";
import { here, type Ran } from "./here.ts";

const MAIN = built("bin/tuckline.js");

const CREST = `<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">
<path id="feather" fill="#4a6274" d="M4 4h10v10h-10z"/></svg>`;

const test = here();

interface Options {
  readonly stdin?: string;
  /** The reader goes away before anything is written. */
  readonly closed?: boolean;
}

const tuckline = (words: readonly string[], { stdin = "", closed = false }: Options = {}) =>
  new Promise<Ran>((resolve, reject) => {
    const child = spawn(process.execPath, [MAIN, ...words], {
      cwd: test.folder,
      stdio: "pipe",
    });
    let stdout = "";
    let stderr = "";
    child.stdout.on("data", (chunk) => {
      stdout += chunk;
    });
    child.stderr.on("data", (chunk) => {
      stderr += chunk;
    });
    if (closed) child.stdout.destroy();
    child.stdin.end(stdin);
    child.on("error", reject);
    child.on("close", (code) => resolve({ code: code ?? -1, stdout, stderr }));
  });

describe("the command as a process", { timeout: 60_000 }, () => {
  it("plans through pipes and exits with 0", async () => {
    const { code, stdout, stderr } = await tuckline(["plan", "-"], { stdin: CREST });
    expect(code).toBe(0);
    expect(stdout).toContain('data-tuck-role="stitches"');
    expect(stderr).toContain("Written: standard output");
  });

  it("exits with 2 and one line for what it cannot read", async () => {
    await test.write("crest.svg", "<svg\n<path");
    const { code, stdout, stderr } = await tuckline(["plan", "crest.svg"]);
    expect({ code, stdout }).toEqual({ code: 2, stdout: "" });
    expect(stderr).toMatch(/^crest\.svg:2:\d+: .+\n$/);
  });

  it("goes quietly when the reader has gone away", async () => {
    const { code, stderr } = await tuckline(["plan", "-", "--quiet"], { stdin: CREST, closed: true });
    expect({ code, stderr }).toEqual({ code: 0, stderr: "" });
  });
});

describe("an error that nobody foresaw", () => {
  /** Without a folder to start from, nothing works. */
  const broken = async (debug: boolean): Promise<Ran> => {
    let stderr = "";
    const sink = { write: (_text: string, done: () => void) => done() };
    const err = {
      write: (text: string, done: () => void) => {
        stderr += text;
        done();
      },
    };
    const io = { stdin: {}, stdout: sink, stderr: err, cwd: undefined, debug };
    const code = await run(["check", "crest.svg"], io as unknown as Parameters<typeof run>[1]);
    return { code, stdout: "", stderr };
  };

  it("is one line that asks for a report", async () => {
    const { code, stderr } = await broken(false);
    expect(code).toBe(2);
    expect(stderr).toMatch(/^tuckline: this should not happen \(TypeError: .+\); please report it .+\n$/);
  });

  it("shows where with TUCKLINE_DEBUG", async () => {
    expect((await broken(true)).stderr).toMatch(/\n +at /);
  });
});

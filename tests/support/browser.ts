/**
 * `tuckline edit` as an artist has it: the built command, Debian's Chromium with a window of its own, and a record
 * of all that must not happen: errors in the console, and requests that leave this machine. Chromium is installed
 * by .ci/run; `npm test` builds first.
 */
import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { copyFile, mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { type Browser, chromium, type Page } from "playwright-core";

const at = (path: string): string => fileURLToPath(new URL(`../../${path}`, import.meta.url));

const CHROMIUM = "/usr/bin/chromium";

/** What is missing for tests in the browser; undefined where all is there. */
export function missingForBrowser(): string | undefined {
  if (!existsSync(CHROMIUM) || spawnSync(CHROMIUM, ["--version"]).status !== 0) return "chromium";
  return ["build/bin/tuckline.js", "build/plugin/svgedit-host.js"].find((file) => !existsSync(at(file)));
}

export const launchChromium = (): Promise<Browser> =>
  chromium.launch({
    executablePath: CHROMIUM,
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
    ],
  });

export interface EditProcess {
  /** As it was printed, with the token. */
  readonly url: string;
  readonly child: ChildProcess;
  /** What it has written to standard error. */
  stderr(): string;
  /** Ends it as Ctrl-C does. @returns its exit code */
  end(): Promise<number | null>;
}

/** Starts the built command; resolves once it has printed its address. */
export function startEdit(words: readonly string[], cwd: string): Promise<EditProcess> {
  const child = spawn(process.execPath, [at("build/bin/tuckline.js"), "edit", ...words, "--no-open"], {
    cwd,
    stdio: ["ignore", "pipe", "pipe"],
  });
  let stderr = "";
  child.stderr.on("data", (chunk) => {
    stderr += chunk;
  });
  const ended = new Promise<number | null>((resolve) => child.once("exit", resolve));
  return new Promise((resolve, reject) => {
    let stdout = "";
    child.stdout.on("data", (chunk) => {
      stdout += chunk;
      const url = /http:\S+/.exec(stdout)?.[0];
      if (url === undefined) return;
      const end = (): Promise<number | null> => {
        child.kill("SIGINT");
        return ended;
      };
      resolve({ url, child, stderr: () => stderr, end });
    });
    child.once("exit", (code) => reject(new Error(`tuckline edit ended with ${code}: ${stderr}`)));
  });
}

export interface EditorPage {
  readonly page: Page;
  /** A folder of its own; the drawing lies in it. */
  readonly folder: string;
  readonly url: string;
  /** Errors in the console and uncaught ones, since it was opened. */
  readonly errors: string[];
  /** Requests to anywhere but the server, and refused attempts at such. */
  readonly foreign: readonly string[];
  close(): Promise<void>;
}

export interface EditorOptions {
  /** Paths from the project's root; the first is opened, all are copied into the folder. */
  readonly drawings?: readonly string[];
  /** More drawings for the folder, by their names; without `drawings`, the first of them is opened. */
  readonly texts?: Readonly<Record<string, string>>;
  /** More words for the command line. */
  readonly words?: readonly string[];
  readonly viewport?: { readonly width: number; readonly height: number };
  readonly colorScheme?: "light" | "dark";
  /** What is done with the page before it goes anywhere. */
  readonly before?: (page: Page) => Promise<unknown>;
  /** What must be there before it is said to be open. */
  readonly until?: string;
}

/** What is there once the page has begun: the panel, a question, or a line that says what is wrong. */
const BEGUN = "tuck-panel, dialog[open], .tuckline-notice.shown";

/** Opens drawings in the editor. */
export async function openEditor(browser: Browser, options: EditorOptions = {}): Promise<EditorPage> {
  const { drawings = [], texts = {}, words = [], until = BEGUN } = options;
  const folder = await mkdtemp(join(tmpdir(), "tuckline-edit-"));
  for (const drawing of drawings) await copyFile(at(drawing), join(folder, basename(drawing)));
  for (const [name, text] of Object.entries(texts)) await writeFile(join(folder, name), text);
  const named = [...drawings.map((drawing) => basename(drawing)), ...Object.keys(texts)].slice(0, 1);
  const edit = await startEdit([...named, ...words], folder);
  const context = await browser.newContext({
    viewport: options.viewport ?? { width: 1400, height: 900 },
    colorScheme: options.colorScheme ?? "light",
    acceptDownloads: true,
  });
  const page = await context.newPage();
  const errors: string[] = [];
  const foreign: string[] = [];
  const { origin } = new URL(edit.url);
  page.on("console", (message) => {
    if (message.type() === "error") errors.push(`${message.text()} ${message.location().url}`);
  });
  page.on("pageerror", (error) => errors.push(error.stack ?? error.message));
  page.on("request", (request) => {
    const url = new URL(request.url());
    if (url.origin !== origin && !["data:", "blob:"].includes(url.protocol)) foreign.push(request.url());
  });
  await options.before?.(page);
  // Modules that wait for others hold the page's own events up.
  await page.goto(edit.url, { waitUntil: "commit" });
  await page.waitForSelector(until, { timeout: 60_000 });
  return {
    page,
    folder,
    url: edit.url,
    errors,
    foreign,
    async close() {
      await context.close();
      await edit.end();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

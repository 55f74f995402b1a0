/**
 * Inkscape itself, run without a screen: Debian's packages inkscape, xvfb, xauth and xdotool, which `.ci/run`
 * installs. Extensions are actions only where there is a display, so each run has one of its own.
 */
import { spawn, spawnSync } from "node:child_process";
import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, it } from "vitest";
import { inkscapePlugin, PLUGIN_FOLDER } from "../../../cli/install/inkscape.ts";
import { putPlugin } from "../../../cli/install/plugin-folder.ts";
import { bundleInto } from "../../../plugin/hosts/inkscape/bundle.ts";
import { quietIo } from "./quiet-io.ts";

/** For a run of the editor on a machine that is busy with others. */
export const MOST_MS = 600_000;

const NEEDED = ["inkscape", "xvfb-run", "xauth", "xdotool"];

const missing = NEEDED.filter((command) => spawnSync("sh", ["-c", `command -v ${command}`]).status !== 0);

/**
 * Tests in the real program. Where it is missing they say so, by name and on the console; where it must not be
 * missing (CI), they fail.
 */
export function inInkscape(name: string, tests: () => void): void {
  if (missing.length === 0) {
    describe(name, { timeout: MOST_MS }, tests);
    return;
  }
  const what = `${missing.join(", ")} is missing`;
  describe(`${name} (NOT RUN: ${what})`, () => {
    it("is not run without the program", () => {
      if (process.env.CI) throw new Error(`${what}; install Debian's inkscape, xvfb, xauth and xdotool`);
      console.warn(`Not run: ${name}, since ${what}.`);
    });
  });
}

/**
 * A clean profile with the plugin in it, installed as the command does it.
 *
 * @param presets of dialogs, by the extension's id and the field's name: what the artist chose the last time
 */
export async function profileIn(
  folder: string,
  presets: Readonly<Record<string, string>> = {},
): Promise<string> {
  const bundle = join(folder, "bundle");
  await bundleInto(bundle);
  const profile = join(folder, "profile");
  const files = await inkscapePlugin(bundle, process.platform, process.execPath);
  await putPlugin(join(profile, "extensions", PLUGIN_FOLDER), files, "1.2.3", quietIo(folder));
  const chosen = Object.entries(presets).map(([name, value]) => ` ${name}="${value}"`);
  await mkdir(profile, { recursive: true });
  await writeFile(
    join(profile, "preferences.xml"),
    `<inkscape xmlns:sodipodi="http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd" version="1"><group id="extensions"${chosen.join("")}/></inkscape>`,
  );
  return profile;
}

export interface InkscapeRun {
  readonly stdout: string;
  readonly stderr: string;
}

/** Clicks the button of every message window, so that the editor goes on. It ends with the editor. */
const CLOSE_WINDOWS = `while sleep 0.2; do
  for id in $(xdotool search --onlyvisible --class inkscape 2>/dev/null); do
    eval "$(xdotool getwindowgeometry --shell "$id" 2>/dev/null)"
    if [ "$WIDTH" -lt 900 ] && [ "$HEIGHT" -gt 150 ]; then
      echo window >> "$WINDOWS"
      xdotool mousemove $((X + WIDTH / 2)) $((Y + HEIGHT - 18)) click 1
    fi
  done
done`;

/**
 * Opens a drawing and does one action after another. Message windows are closed as they come, and each leaves a
 * line in `windows.txt` beside the drawing.
 */
export function runInkscape(
  profile: string,
  drawing: string,
  actions: readonly string[],
): Promise<InkscapeRun> {
  const script = `(${CLOSE_WINDOWS}) & closer=$!
inkscape --batch-process --actions="$ACTIONS" "$DRAWING"
kill $closer`;
  return onDisplay(script, profile, drawing, { ACTIONS: actions.join(";") });
}

/**
 * Opens a drawing in the editor's window and types keys there, over and over, saving in between, until the saved
 * drawing holds a text: nobody tells when a window is ready for keys.
 *
 * @param bindings of the editor's actions, by key: what the artist may set among the editor's preferences
 */
export async function typeInInkscape(
  profile: string,
  drawing: string,
  keys: readonly string[],
  bindings: Readonly<Record<string, string>>,
  until: string,
): Promise<InkscapeRun> {
  const bound = Object.entries(bindings).map(([key, action]) => `<bind gaction="${action}" keys="${key}"/>`);
  await mkdir(join(profile, "keys"), { recursive: true });
  await writeFile(join(profile, "keys", "default.xml"), `<keys name="club">${bound.join("")}</keys>`);
  const script = `inkscape "$DRAWING" & editor=$!
for round in $(seq 1 40); do
  grep -q "$UNTIL" "$DRAWING" && break
  window=$(xdotool search --onlyvisible --name " - Inkscape" | head -1)
  [ -n "$window" ] && xdotool windowfocus "$window" key --delay 300 $KEYS
  for poll in $(seq 1 20); do
    [ -n "$window" ] && xdotool key ctrl+s
    grep -q "$UNTIL" "$DRAWING" && break
    sleep 0.5
  done
done
kill $editor`;
  return onDisplay(script, profile, drawing, { KEYS: keys.join(" "), UNTIL: until });
}

function onDisplay(
  script: string,
  profile: string,
  drawing: string,
  names: Readonly<Record<string, string>>,
): Promise<InkscapeRun> {
  const folder = join(drawing, "..");
  const child = spawn("xvfb-run", ["-a", "-s", "-screen 0 1400x1000x24", "bash", "-c", script], {
    cwd: folder,
    env: {
      ...process.env,
      ...names,
      INKSCAPE_PROFILE_DIR: profile,
      DRAWING: drawing,
      WINDOWS: join(folder, "windows.txt"),
    },
  });
  let stdout = "";
  let stderr = "";
  child.stdout.on("data", (chunk) => {
    stdout += chunk;
  });
  child.stderr.on("data", (chunk) => {
    stderr += chunk;
  });
  return new Promise((resolve, reject) => {
    child.on("error", reject);
    child.on("close", () => resolve({ stdout, stderr }));
  });
}

/** Actions that save the drawing as it is now. */
export const saveAs = (file: string): string => `export-filename:${file};export-do`;

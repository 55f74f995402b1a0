/**
 * `npm run bench -- panel`: how quick the panel is, on the built package in Chromium. A machine that does other
 * work meanwhile shows in all of it; how busy it was is printed beneath.
 */
import { copyFile, mkdtemp, readdir, readFile, rm, stat } from "node:fs/promises";
import { loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import type { Browser, Page } from "playwright-core";
import { launchChromium, missingForBrowser, openEditor, startEdit } from "../../support/browser.ts";
import { fanOfFeathers } from "../../support/fans.ts";
import { median, quantile, textTable } from "../../support/statistics.ts";
import { serveCanvasPage } from "../canvas-page/serve.ts";

const OPENINGS = 5;
const DROPS = 30;
/** A new tab, and one that was closed, keep the browser busy for a while. */
const REST_MS = 1500;
const PLAYED_SECONDS = 5;
const STITCHES = 60_000;

type Row = readonly [measure: string, value: string, bar: string];

/** Notes every task of the page's main thread that takes longer than 50 ms; shorter ones are not told. */
const WATCH_TASKS = `
  globalThis.longTasks = [];
  new PerformanceObserver((list) => {
    for (const { startTime, duration } of list.getEntries()) longTasks.push([startTime, duration]);
  }).observe({ type: "longtask" });`;

/** Milliseconds from the start of the navigation. */
interface Opening {
  /** The planned picture was painted: the first look, or, where that was not needed, the canvas. */
  readonly pictured: number;
  /** The panel was there. */
  readonly begun: number;
  /** The plan was painted on the editor's canvas. */
  readonly marked: number;
}

/** Notes when each of these was painted: the first task after the frame that it was first seen in. */
const WATCH_OPENING = `
  globalThis.opening = new Promise((resolve) => {
    const things = { pictured: "#first-look.shown, .marker", begun: "tuck-panel", marked: ".marker" };
    const seen = {};
    const { port1, port2 } = new MessageChannel();
    const look = () => {
      const isNew = ([name, selector]) => seen[name] === undefined && document.querySelector(selector) !== null;
      const found = Object.entries(things).filter(isNew);
      port1.onmessage = () => {
        for (const [name] of found) seen[name] = performance.now();
        if (Object.keys(seen).length === Object.keys(things).length) resolve(seen);
        else requestAnimationFrame(look);
      };
      port2.postMessage(null);
    };
    requestAnimationFrame(look);
  });`;

/** The session of the panel, and the next moment at which a new plan stands on the canvas. */
const SESSION = `
  const { session } = document.querySelector("tuck-panel");
  const shown = () => new Promise((resolve) => {
    const stop = session.subscribe((state, before) => {
      if (state.planSerial === before.planSerial) return;
      stop();
      requestAnimationFrame(() => setTimeout(() => resolve(performance.now())));
    });
  });`;

/** Each time by a new `tuckline edit`, which has nothing planned; the browser is there already, and at rest. */
async function openingTime(browser: Browser): Promise<Row[]> {
  const folder = await mkdtemp(join(tmpdir(), "tuckline-bench-"));
  await copyFile(
    new URL("../../../fixtures/heron-crest.svg", import.meta.url),
    join(folder, "heron-crest.svg"),
  );
  const context = await browser.newContext({ viewport: { width: 1400, height: 900 } });
  await context.addInitScript(WATCH_OPENING);
  const runs: (Opening & { readonly listening: number; readonly all: number })[] = [];
  // The first one warms up, the browser more than anything.
  for (let run = -1; run < OPENINGS; run++) {
    const page = await context.newPage();
    await page.waitForTimeout(REST_MS);
    const start = performance.now();
    const edit = await startEdit(["heron-crest.svg"], folder);
    const listening = performance.now() - start;
    await page.goto(edit.url, { waitUntil: "commit" });
    const opening = await page.evaluate<Opening>("opening");
    if (run >= 0) runs.push({ ...opening, listening, all: listening + opening.pictured });
    await page.close();
    await edit.end();
  }
  await context.close();
  await rm(folder, { recursive: true });
  const ms = (pick: (run: (typeof runs)[number]) => number): string =>
    `${median(runs.map(pick)).toFixed(0)} ms`;
  return [
    ["crest: address opened → planned picture", ms(({ pictured }) => pictured), "2000 ms"],
    ["  from the command on", ms(({ all }) => all), ""],
    ["crest: address opened → plan on the editor's own canvas", ms(({ marked }) => marked), ""],
    ["  of that, until the editor and the panel are there", ms(({ begun }) => begun), ""],
  ];
}

/** An artist looks at the plan before moving a marker, and the planner rehearses meanwhile. */
const LOOKS_MS = 8000;

/** Drops an exit marker somewhat aside, again and again; from each drop until the new plan is on the canvas. */
async function dropTimes(browser: Browser, name: string, pieces: number, barMs: number): Promise<Row[]> {
  const drawing = pieces === 0 ? {} : { texts: { "fan.svg": fanOfFeathers(pieces) } };
  const drawings = pieces === 0 ? { drawings: ["fixtures/heron-crest.svg"] } : {};
  const opened = await openEditor(browser, { ...drawing, ...drawings, until: ".marker" });
  const { page } = opened;
  await page.waitForTimeout(LOOKS_MS);
  await page.evaluate(WATCH_TASKS);
  const times = await page.evaluate<[from: number, to: number][]>(`(async () => {
    ${SESSION}
    const times = [];
    for (let drop = -3; drop < ${DROPS}; drop++) {
      const { pieces } = session.state.plan;
      const { id, exit } = pieces[((drop + 3) * 37) % pieces.length];
      const next = shown();
      const from = performance.now();
      session.pin(id, "exit", session.nearestLegal(id, "exit", [exit[0] + 0.6, exit[1] - 0.4]));
      const to = await next;
      if (drop >= 0) times.push([from, to]);
      await new Promise((resolve) => setTimeout(resolve, 60));
    }
    return times;
  })()`);
  const longest = await longestTask(page, times);
  await opened.close();
  const ms = times.map(([from, to]) => to - from);
  return [
    [
      `${name}: marker dropped → plan on the canvas, 95 %`,
      `${quantile(ms, 0.95).toFixed(0)} ms`,
      `${barMs} ms`,
    ],
    ["  median", `${median(ms).toFixed(0)} ms`, ""],
    ["  longest task of the main thread meanwhile", longest, "50 ms"],
  ];
}

async function longestTask(page: Page, times: readonly (readonly [number, number])[]): Promise<string> {
  const tasks = await page.evaluate<[start: number, duration: number][]>("longTasks");
  const within = tasks.filter(([start]) => times.some(([from, to]) => start >= from && start <= to));
  return within.length === 0
    ? "under 50 ms"
    : `${Math.max(...within.map(([, ms]) => ms)).toFixed(0)} ms (${within.length} over 50 ms)`;
}

/** A field of water, as large as it takes. */
const water = (stitches: number): string => {
  const side = Math.ceil(Math.sqrt((stitches * 1.15) / 0.66));
  const waves = Array.from({ length: 10 }, (_, k) => {
    const y = (side / 10) * k;
    return `<rect id="wave-${k}" x="0" y="${y}" width="${side}" height="${side / 10 + 0.5}" fill="${k % 2 === 0 ? "#2f7f92" : "#1c3347"}"/>`;
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${side} ${side}" width="${side}mm" height="${side}mm">${waves.join("")}</svg>`;
};

async function playing(browser: Browser): Promise<Row[]> {
  const served = await serveCanvasPage();
  const page = await browser.newPage({ viewport: { width: 1000, height: 860 } });
  await page.goto(served.url);
  await page.waitForFunction("globalThis.page !== undefined");
  await page.evaluate(WATCH_TASKS);
  const stitches = await page.evaluate<number>(`(() => {
    const plan = page.open(${JSON.stringify(water(STITCHES))});
    const scale = 840 / plan.size.widthMm;
    page.see([scale, 0, 0, scale, 10, 10]);
    return plan.metrics.stitches;
  })()`);
  const measured = await page.evaluate<{
    frames: number;
    seconds: number;
    back: number;
    from: number;
    to: number;
  }>(`(async () => {
    // Once through, so that all is painted and the snapshots are there.
    const painted = (at) => new Promise((resolve) => {
      page.watch.onFrame = (frame) => { if (frame.layer === "sew-out" && frame.at === at) resolve(performance.now()); };
      page.update({ player: { isPlaying: false, at, stitchesPerSecond: 4000 } });
    });
    await painted(${stitches});
    const backFrom = performance.now();
    const back = (await painted(${Math.floor(stitches * 0.4)})) - backFrom;
    let frames = 0;
    page.watch.onFrame = (frame) => { if (frame.layer === "sew-out") frames++; };
    page.update({ player: { isPlaying: true, at: ${Math.floor(stitches * 0.4)}, stitchesPerSecond: 4000 } });
    const from = performance.now();
    await new Promise((resolve) => setTimeout(resolve, ${PLAYED_SECONDS * 1000}));
    const to = performance.now();
    page.update({ player: { isPlaying: false, at: 0, stitchesPerSecond: 4000 } });
    return { frames, seconds: (to - from) / 1000, back, from, to };
  })()`);
  const longest = await longestTask(page, [[measured.from, measured.to]]);
  await page.close();
  await served.close();
  return [
    [`player, ${stitches} stitches: frames a second`, (measured.frames / measured.seconds).toFixed(0), "50"],
    ["  longest task of the main thread meanwhile", longest, "50 ms"],
    ["  scrubbed back over the half of it", `${measured.back.toFixed(0)} ms`, ""],
  ];
}

async function sizes(): Promise<Row[]> {
  const folder = new URL("../../../build/plugin/", import.meta.url);
  const modules = (await readdir(folder)).filter((name) => name.endsWith(".js"));
  const total = async (sizeOf: (name: string) => Promise<number>) => {
    const all = await Promise.all(modules.map(sizeOf));
    return `${(all.reduce((sum, size) => sum + size, 0) / 1000).toFixed(1)} kB`;
  };
  // The build left a compressed copy of each for the server to send.
  const sent = async (name: string) => (await stat(new URL(`${name}.br`, folder))).size;
  const zipped = async (name: string) => gzipSync(await readFile(new URL(name, folder))).length;
  return [
    [`our code, ${modules.length} modules, as sent (brotli)`, await total(sent), "250 kB"],
    ["  to a browser without it (gzip)", await total(zipped), ""],
  ];
}

const missing = missingForBrowser();
if (missing !== undefined) throw new Error(`${missing} is missing`);
const browser = await launchChromium();
try {
  const rows: Row[] = [
    ...(await openingTime(browser)),
    ...(await dropTimes(browser, "crest", 0, 100)),
    ...(await dropTimes(browser, "fan of 50", 50, 100)),
    ...(await dropTimes(browser, "fan of 300", 300, 250)),
    ...(await playing(browser)),
    ...(await sizes()),
  ];
  console.log(textTable([["measure", "value", "bar"], ...rows.map((row) => [...row])]));
  console.log(`\nmachine: ${loadavg()[0].toFixed(1)} processes wanted to run in the last minute`);
} finally {
  await browser.close();
}

/** The report of a batch: its three files, shards and merging, and the progress that is shown on the way. */
import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { Writable } from "node:stream";
import { parse } from "csv-parse/sync";
import { HtmlValidate } from "html-validate";
import { JSDOM } from "jsdom";
import { describe, expect, it } from "vitest";
import { showProgress } from "../../cli/batch/progress.ts";
import {
  joinReports,
  type PlannedEntry,
  type ReportEntry,
  reportJson,
  reportOf,
} from "../../cli/batch/report.ts";
import { reportCsv } from "../../cli/batch/report-csv.ts";
import { writeReport } from "../../cli/batch/report-files.ts";
import { reportPage } from "../../cli/batch/report-page.ts";
import { isInShard } from "../../cli/batch/shard.ts";
import { here } from "./here.ts";

const planned = (name: string, stitches: number): ReportEntry => ({
  name,
  status: "planned",
  drawing: "0a".repeat(32),
  settings: "c0ffee",
  widthMm: 80,
  heightMm: 60.25,
  colours: ["#14202b", "#e0b13c"],
  metrics: {
    pieces: 3,
    blocks: 2,
    strands: 2,
    strandsLowerBound: 1,
    trims: 1,
    hops: 0,
    stitches,
    connectorMm: 12.5,
    tuckedMm: 12.5,
    exposedMm: 0,
    threadMm: 4321,
    seconds: 75,
  },
  findings: [
    {
      code: "narrow",
      severity: "warning",
      count: 2,
      message: `Too narrow in "${name}".`,
      remedy: "Widen it.",
    },
  ],
  outputs: { svg: `plans/${name}.planned.svg`, json: `plans/${name}.json` },
  thumbnail: `thumbs/${name}.png`,
});
const failed = (name: string, message: string): ReportEntry => ({ name, status: "failed", message });

const NASTY = [
  "reed, bent.svg",
  'an "oar".svg',
  "<b>&amp;.svg",
  "🪶#1?.svg",
  "two\nlines.svg",
  "</script><script>alert(1)</script>.svg",
];
const REPORT = reportOf([
  planned("heron.svg", 900),
  planned("oar.svg", 10_000),
  failed("wave.svg", 'not a drawing: "<html>"'),
  ...NASTY.map((name, k) => planned(name, 100 + k)),
]);

describe("report.csv", () => {
  it("is read back by a CSV library as it was (RFC 4180)", () => {
    const csv = reportCsv(REPORT);
    const rows = parse(csv, { columns: true, record_delimiter: "\r\n" }) as Record<string, string>[];
    expect(rows.map(({ name }) => name)).toEqual(REPORT.drawings.map(({ name }) => name));
    const heron = rows.find(({ name }) => name === "heron.svg");
    expect(heron).toMatchObject({
      status: "planned",
      height_mm: "60.25",
      stitches: "900",
      warnings: "2",
      message: "",
    });
    expect(rows.find(({ name }) => name === "wave.svg")?.message).toBe('not a drawing: "<html>"');
  });
});

/** As much of a page as these tests use. */
interface PageElement {
  readonly textContent: string;
  readonly hidden: boolean;
  value: string;
  getAttribute(name: string): string | null;
  dispatchEvent(event: unknown): void;
  querySelector(selector: string): PageElement | null;
}
interface Page extends Pick<PageElement, "querySelector"> {
  readonly defaultView: { readonly Event: new (type: string) => unknown };
  querySelectorAll(selector: string): ArrayLike<PageElement> & Iterable<PageElement>;
}
type RunningDom = new (
  html: string,
  options: { runScripts: "dangerously" },
) => { window: { document: Page } };

describe("index.html", () => {
  const html = reportPage(REPORT);
  const open = () =>
    new (JSDOM as unknown as RunningDom)(html, { runScripts: "dangerously" }).window.document;
  const names = (page: Page): (string | null | undefined)[] =>
    [...page.querySelectorAll("tbody tr")].map((row) => row.querySelector("bdi")?.textContent);

  it("has nothing that html-validate's recommended rules find", async () => {
    const validator = new HtmlValidate({ extends: ["html-validate:recommended"] });
    const { results } = await validator.validateString(html);
    expect(
      results.flatMap(({ messages }) => messages.map(({ ruleId, message }) => `${ruleId}: ${message}`)),
    ).toEqual([]);
  });

  it("shows every name as it is, and links to files by it", () => {
    const page = open();
    expect(names(page)).toEqual(REPORT.drawings.map(({ name }) => name));
    expect(page.querySelectorAll("script")).toHaveLength(1);
    for (const [k, entry] of REPORT.drawings.entries()) {
      if (entry.status === "failed") continue;
      const row = page.querySelectorAll("tbody tr")[k];
      expect(decodeURIComponent(row.querySelector("img")?.getAttribute("src") ?? "")).toBe(entry.thumbnail);
      const link = row.querySelector("a")?.getAttribute("href") ?? "";
      expect(new URL(link, "file:///sewn/").pathname.split("/").map(decodeURIComponent).join("/")).toBe(
        `/sewn/${entry.outputs.svg}`,
      );
    }
  });

  it("uses nothing from elsewhere", () => {
    const addresses = [...html.matchAll(/(?:src|href)="([^"]*)"/g)].map(([, address]) => address);
    expect(addresses.every((address) => /^(plans|thumbs)\//.test(address))).toBe(true);
    expect(html).not.toMatch(/@import|url\(|https?:/);
  });

  it("sorts by a column's figures at a press, the other way at the next, what failed last", () => {
    const page = open();
    const press = (title: string) =>
      [...page.querySelectorAll("thead button")]
        .find((button) => button.textContent === title)
        ?.dispatchEvent(new page.defaultView.Event("click"));
    press("stitches");
    expect(names(page).slice(-3)).toEqual(["heron.svg", "oar.svg", "wave.svg"]);
    press("stitches");
    expect(names(page).slice(0, 2)).toEqual(["oar.svg", "heron.svg"]);
    expect(names(page).at(-1)).toBe("wave.svg");
    press("drawing");
    expect(names(page)).toEqual(REPORT.drawings.map(({ name }) => name));
  });

  it("finds rows by a word", () => {
    const page = open();
    const find = page.querySelector("input") as PageElement;
    find.value = "HERON";
    find.dispatchEvent(new page.defaultView.Event("input"));
    const shown = [...page.querySelectorAll("tbody tr")].filter((row) => !row.hidden);
    expect(shown.map((row) => row.querySelector("bdi")?.textContent)).toEqual(["heron.svg"]);
  });
});

describe("shards", () => {
  const names = Array.from({ length: 400 }, (_, k) => `birds/heron-${k}.svg`);
  const shardsOf = (name: string, of: number) =>
    Array.from({ length: of }, (_, k) => k + 1).filter((number) => isInShard(name, { number, of }));

  it("each drawing is in exactly one, and they are about equal", () => {
    const numbers = names.map((name) => shardsOf(name, 8));
    expect(numbers.every((found) => found.length === 1)).toBe(true);
    for (let number = 1; number <= 8; number++) {
      const size = numbers.filter(([found]) => found === number).length;
      expect(size).toBeGreaterThan(25);
      expect(size).toBeLessThan(75);
    }
  });

  it("are the same on every machine", () => {
    // First 48 bits of SHA-256("heron.svg") by coreutils: sha256sum.
    expect(shardsOf("heron.svg", 8)).toEqual([(0xfcee147a00a2 % 8) + 1]);
  });
});

describe("merge", () => {
  const test = here();
  const entries = ["a", "b", "c", "d", "e"].map((name, k) => planned(`${name}.svg`, k + 1));
  const shard = (number: number) => ({ number, of: 3 });
  const part = (number: number) =>
    reportOf(
      entries.filter((_, k) => k % 3 === number - 1),
      shard(number),
    );

  it("of all shards of a folder gives, byte for byte, the report of a batch that was not split", async () => {
    await mkdir(join(test.folder, "sewn"));
    for (const number of [3, 1, 2]) await writeReport(join(test.folder, "sewn"), part(number), shard(number));
    const { code, stderr } = await test.run("merge sewn --out sewn");
    expect({ code, stderr }).toEqual({ code: 0, stderr: "" });
    expect(await test.text("sewn/report.json")).toBe(reportJson(reportOf(entries)));
    expect(await test.text("sewn/report.csv")).toBe(reportCsv(reportOf(entries)));
    expect(await test.text("sewn/index.html")).toBe(reportPage(reportOf(entries)));
  });

  it("leads from where it lies to the outputs of each folder", async () => {
    for (const number of [1, 2, 3]) {
      await mkdir(join(test.folder, `part-${number}`));
      await writeReport(join(test.folder, `part-${number}`), part(number), shard(number));
    }
    const { code } = await test.run("merge part-1 part-2 part-3 --out all");
    expect(code).toBe(0);
    const { shards, drawings } = JSON.parse(await test.text("all/report.json"));
    expect(shards).toBe(null);
    expect(drawings.map((entry: PlannedEntry) => entry.thumbnail)).toEqual(
      ["1/thumbs/a", "2/thumbs/b", "3/thumbs/c", "1/thumbs/d", "2/thumbs/e"].map(
        (path) => `../part-${path}.svg.png`,
      ),
    );
  });

  it("tells of a shard that is missing, and exits with 1", async () => {
    await mkdir(join(test.folder, "one"));
    await writeReport(join(test.folder, "one"), part(1), shard(1));
    const { code, stdout } = await test.run("merge one --out all");
    expect(code).toBe(1);
    expect(stdout).toContain("of 3 shards 2 are not in here (2, 3)");
    expect(await test.text("all/index.html")).toContain("of 3 shards 2 are not in here (2, 3)");
    expect(JSON.parse(await test.text("all/report.json")).drawings[0].outputs.json).toBe(
      "../one/plans/a.svg.json",
    );
  });

  it("takes a plan before a failure, and refuses two plans that differ", () => {
    const broken = reportOf([failed("a.svg", "the disk is full")]);
    const whole = reportOf([planned("a.svg", 1)]);
    expect(joinReports([broken, whole, whole])).toEqual(whole);
    const other = reportOf([{ ...planned("a.svg", 1), settings: "decaf" } as ReportEntry]);
    expect(() => joinReports([whole, other])).toThrow(/^a\.svg: it is in two reports/);
  });
});

describe("progress", () => {
  function shown(stream: { isTTY?: boolean; columns?: number }) {
    let text = "";
    let clock = 0;
    const sink = new Writable({
      write(chunk, _encoding, done) {
        text += chunk;
        done();
      },
    });
    const progress = showProgress(Object.assign(sink, stream), 1000, () => clock);
    const work = (drawings: number, ms: number) => {
      for (let k = 0; k < drawings; k++) {
        clock += ms;
        progress.step("planned");
      }
    };
    return { progress, work, text: () => text };
  }

  it("is now and then a plain line in a log, without control characters", () => {
    const { progress, work, text } = shown({});
    work(250, 100);
    progress.say("wave.svg: it is broken");
    progress.close();
    expect(text()).toBe(
      "100 of 1,000 · 10 a second · 1 min 30 s left\n200 of 1,000 · 10 a second · 1 min 20 s left\nwave.svg: it is broken\n",
    );
  });

  it("is one line that is drawn over on a terminal, never wider than it, and gone at the end", () => {
    const { progress, work, text } = shown({ isTTY: true, columns: 60 });
    work(500, 100);
    progress.say("wave.svg: it is broken");
    progress.close();
    const lines = text().split("\r\u001b[K");
    expect(lines.at(-1)).toBe("");
    expect(lines.at(-3)).toBe("wave.svg: it is broken\n");
    expect(lines.at(-2)).toBe("[############············] 500 of 1,000 · 10 a second · 50 ");
    expect(Math.max(...lines.map((line) => [...line.trimEnd()].length))).toBeLessThan(60);
  });
});

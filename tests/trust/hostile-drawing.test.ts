/**
 * A drawing that means harm: nothing in it is run, fetched, or passed on into what is made of it. The one exception
 * is the planned drawing itself, which keeps the artist's bytes as they are (`strip` gives them back).
 */

import { readdir } from "node:fs/promises";
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { JSDOM } from "jsdom";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { here } from "../cli/here.ts";
import { hostileDrawing } from "../support/hostile-drawing.ts";
import { read } from "../support/read.ts";

const test = here();

/** Would be told of any request, by whatever way a drawing has one made. */
let listener: Server;
let asked: string[] = [];
let origin = "";
beforeAll(async () => {
  listener = createServer(({ url }, answer) => {
    asked.push(url ?? "");
    answer.end();
  });
  await new Promise<void>((done) => listener.listen(0, "127.0.0.1", done));
  origin = `http://127.0.0.1:${(listener.address() as AddressInfo).port}`;
});
afterAll(() => new Promise((done) => listener.close(done)));

/** The id of a piece: markup, quotes, a line break, an escape sequence (ECMA-48), and a turn of direction (UAX #9). */
const ID = `=oar<img src=x onerror=alert(1)>'"&#10;&#x202e;&#x85;gvs`;
const named = (id: string): string => {
  const escaped = id.replaceAll("<", "&lt;").replaceAll('"', "&quot;");
  return `<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="30mm" viewBox="0 0 40 30"><g fill="#4a6274">
<path id="${escaped}" d="M4 4h9v10h-9z"/><path id="${escaped}2" d="M24 4h9v10h-9z"/><text id="${escaped}3">x</text>
</g></svg>`;
};

/** What a terminal would obey, but for the line feed. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what this is about
const OBEYED = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/;

/** By the HTML standard's own parser: elements and attributes that would run or load something from elsewhere. */
function liveParts(html: string): string[] {
  const { document } = new JSDOM(html).window;
  const found: string[] = [];
  for (const element of document.querySelectorAll("*")) {
    if (/^(iframe|object|embed|foreignobject|base|form)$/i.test(element.localName))
      found.push(element.localName);
    for (const { name, value } of element.attributes) {
      if (/^on/i.test(name)) found.push(`${name}=${value}`);
      if (/^(src|href|xlink:href|action|srcdoc|data)$/i.test(name) && /^\s*(\w+:|\/\/)/.test(value))
        found.push(`${name}=${value.slice(0, 60)}`);
    }
  }
  return found.filter((part) => !part.startsWith("src=data:image/png"));
}

describe("a drawing with scripts, handlers and addresses in it", { timeout: 60_000 }, () => {
  it("is planned; nothing of them is fetched or comes into what is made of it", async () => {
    asked = [];
    await test.write("crest.svg", hostileDrawing(origin));
    const { code, stderr } = await test.run(
      "plan crest.svg --sheet out.html --json out.json --csv out.csv --picture out.svg --machine out.dst",
    );
    expect({ code, stderr }).toEqual({ code: 0, stderr: "" });
    // Addresses may be told of, as text: in findings.
    for (const name of ["out.html", "out.json", "out.csv", "out.svg"])
      expect(await test.text(name), name).not.toMatch(/HARM|javascript:|xml-stylesheet|<!ENTITY/i);
    for (const name of ["out.csv", "out.svg"]) expect(await test.text(name), name).not.toContain(origin);
    expect(liveParts(await test.text("out.svg"))).toEqual([]);
    expect(liveParts(await test.text("out.html"))).toEqual([]);
    expect(asked).toEqual([]);
  });

  it("tells the artist what was not fetched, and sews the rest", () => {
    const { pieces, findings } = read(hostileDrawing(origin));
    expect(findings.map(({ code }) => code)).toContain("external-reference");
    expect(pieces.map(({ element }) => element)).toEqual(expect.arrayContaining(["feather", "pennant"]));
  });

  it("keeps its bytes in the planned drawing, and gets them back", async () => {
    const drawing = hostileDrawing(origin);
    await test.write("crest.svg", drawing);
    await test.run("plan crest.svg -o planned.svg");
    await test.run("strip planned.svg -o stripped.svg");
    expect(await test.text("stripped.svg")).toBe(drawing);
  });
});

describe("ids with markup, quotes, line breaks and turns of direction", { timeout: 60_000 }, () => {
  it.each(["plan crest.svg", "check crest.svg", "inspect crest.svg", "explain crest.svg"])(
    "%s: the terminal is told nothing that it would obey",
    async (words) => {
      await test.write("crest.svg", named(ID));
      const { stdout, stderr } = await test.run(words);
      expect(`${stdout}${stderr}`).toContain("oar");
      expect(`${stdout}${stderr}`).not.toMatch(OBEYED);
    },
  );

  it("are text in the run sheet and harmless in a spreadsheet, and whole in JSON", async () => {
    await test.write("crest.svg", named(ID));
    await test.run("plan crest.svg --sheet out.html --csv out.csv --json out.json");
    expect(liveParts(await test.text("out.html"))).toEqual([]);
    const rows = parse(await test.bytes("out.csv"), { columns: true }) as Record<string, string>[];
    const cells = rows.flatMap((row) => [row.piece, row.connector]);
    expect(cells.filter((cell) => /^[=+\-@\t\r]/.test(cell))).toEqual([]);
    const { pieces } = JSON.parse(await test.text("out.json"));
    expect(pieces[0].element).toBe(`=oar<img src=x onerror=alert(1)>'"\n\u202e\u0085gvs`);
  });
});

describe("names of files", { timeout: 60_000 }, () => {
  const NAMES = [
    "=HYPERLINK(1).svg",
    "<img src=x onerror=alert(1)>.svg",
    "javascript:alert(1).svg",
    "heron\u202egvs.exe.svg",
    "two\nlines\u001b[2J.svg",
    'a "heron\'s" 🪶.svg',
  ];

  it("are shown as text by a batch: its page, its table, the terminal", async () => {
    for (const name of NAMES) await test.write(name, name.startsWith("two") ? "<svg" : named("oar"));
    const { code, stdout, stderr } = await test.run("batch *.svg --out sewn --formats sheet --jobs 1");
    expect(code, stderr).toBe(1);
    expect(`${stdout}${stderr}`.replaceAll(/^\d+ of .*$/gm, "")).not.toMatch(OBEYED);
    expect(stderr).toMatch(/^two·lines·\[2J\.svg:1:\d+: /m);

    const page = await test.text("sewn/index.html");
    expect(liveParts(page)).toEqual([]);
    expect(page).not.toMatch(/[\u202a-\u202e\u2066-\u2069]/);
    const rows = parse(await test.bytes("sewn/report.csv"), { columns: true }) as Record<string, string>[];
    expect(rows.map(({ name }) => name)).toContain("'=HYPERLINK(1).svg");
    expect(rows.flatMap((row) => Object.values(row)).filter((cell) => /^[=+@\t\r]/.test(cell))).toEqual([]);
    for (const sheet of await readdir(join(test.folder, "sewn/plans")))
      expect(liveParts(await test.text(`sewn/plans/${sheet}`)), sheet).toEqual([]);
  });
});

describe("settings", () => {
  it.each([
    ['{"$schema": "../../schema.json", "keepLayers": "../../../etc/passwd"}', 0],
    ['{"threads": "/etc/passwd"}', 2],
    ['{"__proto__": {"pullMm": 1}}', 2],
    ['{"recipe": "../../recipe"}', 2],
  ])("%s name no file: nothing beside is read or written", async (settings, expected) => {
    await test.write("crest.svg", named("oar"));
    await test.write("settings.json", settings);
    const { code, stderr } = await test.run("plan crest.svg --settings settings.json -o out.svg");
    expect(code, stderr).toBe(expected);
    expect(stderr.split("\n").length).toBeLessThan(3);
    expect(await test.files()).toEqual([
      "crest.svg",
      ...(expected === 0 ? ["out.svg"] : []),
      "settings.json",
    ]);
  });
});

describe("a report that means harm", () => {
  it.each([
    ["[1]", "[1]"],
    ["entries that are none", '{"format":"tuckline-report","version":1,"shards":null,"drawings":[null]}'],
    [
      "entries without figures",
      '{"format":"tuckline-report","version":1,"shards":null,"drawings":[{"name":"a.svg","status":"planned"}]}',
    ],
  ])("%s: merge says so in one line", async (_what, report) => {
    await test.write("report.json", report);
    const { code, stdout, stderr } = await test.run("merge . --out .");
    expect({ code, stdout }).toEqual({ code: 2, stdout: "" });
    expect(stderr).toMatch(/^report\.json: this is not a report of a batch; run the batch again\n$/);
  });
});

describe("style rules without end", { timeout: 60_000 }, () => {
  const REEDS = "<g/>".repeat(8_000);
  it("are refused in one line", () => {
    const rules = "g:nth-child(2n+1) ~ rect, g:has(~ circle) { fill: red }";
    const text = `<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><style>${rules}</style>${REEDS}</svg>`;
    expect(() => read(text)).toThrow(/style rules take too long to match: set/);
  });
});

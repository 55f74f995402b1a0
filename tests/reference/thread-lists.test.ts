/**
 * Lists of threads against sources outside the project: records against the rules of RFC 4180 (Common Format and
 * MIME Type for CSV Files, section 2, and its grammar) and against csv-parse, the choice of threads against culori's own search for the
 * nearest colours.
 */
import { readFileSync } from "node:fs";
import { parse } from "csv-parse/sync";
import { differenceCiede2000, nearest } from "culori";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readCsv } from "../../core/threads/csv.ts";
import { mapToThreads } from "../../core/threads/map-to-threads.ts";
import { readThreadList } from "../../core/threads/read-thread-list.ts";

const fieldsOf = (text: string) => readCsv(text).map(({ fields }) => fields);

describe("the rules of RFC 4180, section 2", () => {
  it.each([
    ["1: a record a line", "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"],
    ["2: the last line break may be missing", "aaa,bbb,ccc\r\nzzz,yyy,xxx"],
    ["5: fields may be quoted", '"aaa","bbb","ccc"\r\nzzz,yyy,xxx'],
  ])("%s", (_, text) => {
    expect(fieldsOf(text)).toEqual([
      ["aaa", "bbb", "ccc"],
      ["zzz", "yyy", "xxx"],
    ]);
  });

  it("4: spaces are part of a field", () => {
    expect(fieldsOf("aaa , bbb,ccc")).toEqual([["aaa ", " bbb", "ccc"]]);
  });

  it("6: a quoted field may hold line breaks, quotes and commas", () => {
    expect(readCsv('"aaa","b\r\nbb","c,cc"\r\nzzz,yyy,xxx')).toEqual([
      { fields: ["aaa", "b\r\nbb", "c,cc"], line: 1 },
      { fields: ["zzz", "yyy", "xxx"], line: 3 },
    ]);
  });

  it("7: a quote inside quotes is doubled", () => {
    expect(fieldsOf('"aaa","b""bb","ccc"')).toEqual([["aaa", 'b"bb', "ccc"]]);
  });

  it("5: an unquoted field holds no quote", () => {
    expect(() => readCsv('aaa,b"bb,ccc')).toThrow("a double quote stands inside a field");
  });

  it("reads back whatever its grammar writes", () => {
    const quoted = (field: string) => `"${field.replaceAll('"', '""')}"`;
    const text = fc.string({ unit: fc.constantFrom("a", "ß", "🪶", " ", ",", '"', "\r", "\n", "\r\n") });
    const record = fc.array(text, { minLength: 2, maxLength: 4 });
    fc.assert(
      fc.property(fc.array(record, { minLength: 1, maxLength: 5 }), fc.boolean(), (records, ended) => {
        const lines = records.map((fields) => fields.map(quoted).join(","));
        expect(fieldsOf(lines.join("\r\n") + (ended ? "\r\n" : ""))).toEqual(records);
      }),
      { seed: 4180, numRuns: 300 },
    );
  });
});

describe("a second reader, csv-parse", () => {
  it("finds the same threads in the club's list", () => {
    const csv = readFileSync(new URL("../../fixtures/threads-willowmere.csv", import.meta.url), "utf8");
    expect(readThreadList(csv)).toEqual(parse(csv, { columns: true }));
  });

  it("takes and refuses the same texts, and finds the same fields in them", () => {
    const bits = fc.constantFrom("oar", "🪶", " ", ",", ",", '"', '"', '""', "\n", "\n");
    let taken = 0;
    fc.assert(
      fc.property(fc.string({ unit: bits, maxLength: 14 }), (text) => {
        const ours = resultOf(() => fieldsOf(text));
        const theirs = resultOf(() =>
          parse(text, { record_delimiter: "\n", relax_column_count: true, skip_empty_lines: true }),
        );
        expect(ours).toEqual(theirs);
        if (ours !== "refused") taken++;
      }),
      { seed: 22, numRuns: 3000 },
    );
    expect(taken).toBeGreaterThan(500);
  });
});

/** What a reader makes of a text, or that it refuses it. */
function resultOf(read: () => unknown): unknown {
  try {
    return read();
  } catch {
    return "refused";
  }
}

describe("the nearest thread", () => {
  it("is the one that culori's search finds, for 200 colours in lists of 40", () => {
    const channel = fc.integer({ min: 0, max: 255 });
    const hex = fc
      .tuple(channel, channel, channel)
      .map((rgb) => `#${rgb.map((value) => value.toString(16).padStart(2, "0")).join("")}`);
    const list = fc.uniqueArray(hex, { minLength: 40, maxLength: 40 });
    fc.assert(
      fc.property(list, fc.array(hex, { minLength: 10, maxLength: 10 }), (hexes, colours) => {
        const threads = hexes.map((one, i) => ({ name: `thread ${i}`, code: String(i), hex: one }));
        const search = nearest(threads, differenceCiede2000(), ({ hex: of }) => of);
        for (const { colour, thread } of mapToThreads(colours, threads))
          expect(search(colour, 1)).toEqual([thread]);
      }),
      { seed: 2000, numRuns: 20 },
    );
  });
});

import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readThreadList, ThreadListError } from "../../core/threads/read-thread-list.ts";

const faultIn = (csv: string): string => {
  try {
    readThreadList(csv);
  } catch (error) {
    if (error instanceof ThreadListError) return `${error.line}: ${error.message}`;
    throw error;
  }
  return "none";
};

const SLATE = { name: "Heron slate", code: "W-11", hex: "#6f8ea6" };
const RED = { name: 'Pennant "Old Crew" red', code: "W-22", hex: "#c8403a" };

describe("a list of threads", () => {
  it("is read with its quotes and commas", () => {
    const list = readThreadList(
      readFileSync(new URL("../../fixtures/threads-willowmere.csv", import.meta.url), "utf8"),
    );
    expect(list).toHaveLength(16);
    expect(list).toContainEqual(SLATE);
    expect(list).toContainEqual(RED);
    expect(list).toContainEqual({ name: "Blade red, club", code: "W-21", hex: "#b0353b" });
  });

  it.each([
    ["with a header", "name,code,hex\nHeron slate,W-11,#6f8ea6\n"],
    ["without one", "Heron slate,W-11,#6f8ea6"],
    [
      "in columns of another order, others among them",
      "Hex,stock,NAME,Code\r\n#6F8EA6,12,Heron slate,W-11\r\n",
    ],
    ["with spaces round its fields and empty lines", "\n Heron slate , W-11 , 6f8ea6 \n\n"],
    ["after a byte order mark", "\ufeffname,code,hex\rHeron slate,W-11,#6f8ea6\r"],
  ])("may come %s", (_, csv) => {
    expect(readThreadList(csv)).toEqual([SLATE]);
  });

  it("takes short colours, and threads without a code", () => {
    expect(readThreadList("Ink,,#123\nChalk,,fff")).toEqual([
      { name: "Ink", code: "", hex: "#112233" },
      { name: "Chalk", code: "", hex: "#ffffff" },
    ]);
  });

  it.each([
    ["nothing", "", "1: there is no thread in this list"],
    ["a header only", "name,code,hex\n", "1: there is no thread in this list"],
    ["a colour that is none", "Ink,1,#123456\nReed,2,green", '2: "green" is no colour; write six'],
    ["a colour of five digits", "Ink,1,#12345", '1: "#12345" is no colour'],
    ["a thread without a name", 'name,code,hex\n"",1,#123456', "2: this thread has no name"],
    ["a comma too many", "Ink,1,#123456\nRed, club,2,#b0353b", "2: there are 4 fields here and should be 3"],
    ["a field too few", "name,code,hex,stock\nInk,1,#123456", "2: there are 3 fields here and should be 4"],
    ["a code twice", "Ink,7,#123456\n\nReed,7,#6f8f4a", '3: the code "7" is on line 1 already'],
    ["a column that is missing", "title,code,hex\nInk,1,#123456", '1: no column is named "name"'],
    ["a column twice", "name,code,hex,hex\nInk,1,#123456,#123456", '1: two columns are named "hex"'],
    [
      "a quote left open",
      'Ink,1,#123456\n"Reed,2,#6f8f4a\n',
      "2: a double quote opens here and is not closed",
    ],
    ["a quote inside", 'Ink,1,#123456\nReed "wet",2,#6f8f4a', "2: a double quote stands inside a field"],
    ["words after a quote", '"Ink\nblue" dark,1,#123456', "2: something follows a closing double quote"],
    ["a line break in quotes before it", '"Ink\nblue",1,#123456\nReed,2,x', '3: "x" is no colour'],
  ])("says of %s on which line and what to do", (_, csv, fault) => {
    expect(faultIn(csv)).toContain(fault);
  });

  it("answers a megabyte in one quoted field, open or closed", () => {
    const long = `"${'a""'.repeat(350_000)}`;
    expect(faultIn(`${long},1,#123456`)).toContain("1: a double quote opens here");
    expect(faultIn(`${long}",1,white`)).toContain('1: "white" is no colour');
  });

  it("refuses more threads than anybody sells", () => {
    const many = Array.from({ length: 2001 }, (_, i) => `Thread ${i},${i},#123456`).join("\n");
    expect(faultIn(many)).toBe("2001: there are more than 2000 threads; shorten the list");
  });
});

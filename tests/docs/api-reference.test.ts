/** The reference of the programming interface: nothing that other programs may use is without a word on it. */
import { existsSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import * as tuckline from "../../core/index.ts";
import { entriesOf, referencePage } from "./api-reference.ts";

const core = new URL("../../core/", import.meta.url);
const source = (module: string) => readFileSync(new URL(module, core), "utf8");

/** The built declarations; where nothing is built, the sources do for names and docstrings. */
const built = new URL("../../build/core/", import.meta.url);
const declarations = (module: string) => {
  const emitted = new URL(module.replace(/\.ts$/, ".d.ts"), built);
  return existsSync(emitted) ? readFileSync(emitted, "utf8") : source(module);
};

describe("the reference of core/index.ts", () => {
  const entries = entriesOf(source("index.ts"), declarations);
  const page = referencePage(entries, "1.2.3");

  it("has every value that the module has at run time", () => {
    const names = new Set(entries.map(({ name }) => name));
    expect(Object.keys(tuckline).filter((name) => !names.has(name))).toEqual([]);
  });

  it("has as many names as index.ts lists", () => {
    const words =
      source("index.ts")
        .replace(/\/\*[\s\S]*?\*\/|from "[^"]*"/g, "")
        .match(/\w+/g) ?? [];
    const listed = words.filter((word) => word !== "export" && word !== "type");
    expect(entries.map(({ name }) => name)).toEqual(listed);
  });

  it("says of every one what it is", () => {
    expect(
      entries.filter(({ doc }) => !/^[^@]/.test(doc)).map(({ module, name }) => `${module} ${name}`),
    ).toEqual([]);
    for (const { name, doc, declaration } of entries) {
      expect(page).toContain(`### ${name}\n`);
      expect(page, name).toContain(doc.split("\n")[0]);
      expect(page, name).toContain(declaration);
    }
  });
});

describe("declarations", () => {
  const index = `export { type Oar, feather } from "./oars.ts";`;

  it("are found with the docstring right before them", () => {
    const module = [
      "/** A note on the whole file. */",
      'import type { Point } from "./types.ts";',
      "export interface Oar {",
      "    /** In metres. */",
      "    readonly lengthM: number;",
      "}",
      "/**",
      " * Turns the blade flat.",
      " *",
      " * @param oar the oar",
      " */",
      "export declare function feather(oar: Oar): Oar;",
    ].join("\n");
    expect(entriesOf(index, () => module)).toEqual([
      {
        name: "Oar",
        module: "./oars.ts",
        doc: "",
        declaration: "interface Oar {\n    /** In metres. */\n    readonly lengthM: number;\n}",
      },
      {
        name: "feather",
        module: "./oars.ts",
        doc: "Turns the blade flat.\n\n@param oar the oar",
        declaration: "function feather(oar: Oar): Oar;",
      },
    ]);
  });

  it("that are missing are told of", () => {
    expect(() => entriesOf(index, () => "export interface Oar {\n}")).toThrow(
      "./oars.ts declares no feather",
    );
  });
});

/** Whatever the input: one clear line and exit code 2, or a plan with findings; and no output is spoilt. */
import { describe, expect, it } from "vitest";
import { here } from "./here.ts";

const test = here();

const svg = (content: string, attributes = 'width="40mm" height="30mm" viewBox="0 0 40 30"') =>
  `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" ${attributes}>${content}</svg>`;

const BOMB = `<!DOCTYPE svg [\n<!ENTITY a "reeds">\n${"abcdefghij"
  .split("")
  .slice(1)
  .map((name, k) => `<!ENTITY ${name} "${`&${"abcdefghij"[k]};`.repeat(10)}">`)
  .join("\n")}\n]>${svg("<title>&j;</title>")}`;

const feather = '<path id="feather" d="M4 4h14v10h-14z"/>';
const megabytesOfPath = () => svg(`<path id="reed" d="M0 0${" l1 1 l1 -1".repeat(1_000_000)}"/>`);

describe("input that cannot be planned", () => {
  it.each([
    ["empty", ""],
    ["blank", " \n\n "],
    ["not XML", "a heron"],
    ["not closed", '<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0"/>'],
    ["not SVG", "<html><body/></html>"],
    ["two roots", `${svg(feather)}${svg(feather)}`],
    ["an entity bomb", BOMB],
    ["an undefined entity", svg("<title>&heron;</title>")],
    ["nothing to take a size from", svg("", "")],
    ["10 MB of path data", megabytesOfPath],
    ["a drawing deeper than any artist's", svg(`${"<g>".repeat(100_000)}${"</g>".repeat(100_000)}`)],
    ["a PNG", Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])],
  ])("%s", async (_name, content) => {
    await test.write("crest.svg", typeof content === "function" ? content() : content);
    await test.write("out.svg", "old");
    await test.write("out.json", "old");
    for (const words of ["plan crest.svg -o out.svg --json out.json", "check crest.svg"]) {
      const { code, stdout, stderr } = await test.run(words);
      expect({ code, stdout }, stderr).toEqual({ code: 2, stdout: "" });
      expect(stderr).toMatch(/^crest\.svg(:\d+:\d+)?: .+\n$/);
      expect(stderr).not.toContain("this should not happen");
      expect(stderr.length).toBeLessThan(300);
    }
    expect(await test.text("out.svg")).toBe("old");
    expect(await test.text("out.json")).toBe("old");
    expect(await test.files()).toEqual(["crest.svg", "out.json", "out.svg"]);
  });
});

describe("input that is planned, with a finding", () => {
  it.each([
    ["use that uses itself", '<g id="reeds"><use href="#reeds"/></g>'],
    ["use in a circle", '<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>'],
    ["use of another file", '<use xlink:href="https://example.org/reeds.svg#reed-1"/>'],
    ["an image from elsewhere", '<image href="https://example.org/heron.png" width="9" height="9"/>'],
    ["a number that is none", '<path id="reed" d="M0 0 L NaN 5 L 5 5"/>'],
    ["an endless number", '<rect id="oar" x="1e999" width="5" height="5"/>'],
    ["a transform that flattens", '<path id="oar" transform="scale(0)" d="M4 4h14v10z"/>'],
  ])("%s", async (_name, content) => {
    await test.write("crest.svg", svg(`${feather}${content}`));
    const { code, stdout, stderr } = await test.run("plan crest.svg --fail-on info");
    expect({ code, stderr }).toEqual({ code: 1, stderr: "" });
    expect(stdout).toMatch(/\nFindings\n/);
    expect(await test.text("crest.planned.svg")).toContain('data-tuck-piece="feather"');
  });

  it.each([
    ["no width", 'width="0" height="0"'],
    ["an endless width", 'width="1e999mm" height="1e999mm"'],
  ])("%s is passed over", async (_name, size) => {
    await test.write("crest.svg", svg(feather, size));
    const { code, stdout } = await test.run("check crest.svg");
    expect(code).toBe(1);
    expect(stdout).toContain("Set the page size");
  });

  it.each([
    ["a path that is not closed", '<path id="reed" d="M20 4h14v10"/>'],
    ["an outline that crosses itself", '<path id="reed" d="M20 4l14 10v-10l-14 10z"/>'],
  ])("%s is sewn", async (_name, content) => {
    await test.write("crest.svg", svg(`${feather}${content}`));
    expect((await test.run("plan crest.svg")).code).toBe(0);
    expect(await test.text("crest.planned.svg")).toContain('data-tuck-piece="reed');
  });
});

describe("outputs that cannot be written", () => {
  it.each([
    ["crest.svg/out.svg", "a part of this path is a file, not a folder"],
    ["folder", "this is a folder; name a file in it"],
    [`${"reed".repeat(100)}.svg`, "this name is too long"],
    ["/proc/tuckline/out.svg", "it cannot be written"],
  ])("%s", async (name, message) => {
    await test.write("crest.svg", svg(feather));
    await test.run("plan crest.svg -o folder/inside.svg");
    await test.write("out.json", "old");
    const { code, stdout, stderr } = await test.run(`plan crest.svg --json out.json -o ${name}`);
    expect({ code, stdout }).toEqual({ code: 2, stdout: "" });
    expect(stderr).toContain(message);
    expect(stderr.trimEnd().split("\n")).toHaveLength(1);
    expect(await test.text("out.json")).toBe("old");
    expect(await test.files()).toEqual(["crest.svg", "folder", "out.json"]);
  });
});

/** The licence texts of every library that a bundle took something from, to lie beside it. */
import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";

/** @param files paths of what went into the bundle */
export async function licencesOf(files: readonly string[]): Promise<string> {
  const folders = new Set(
    files.flatMap((file) => /^.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(file)?.[0] ?? []),
  );
  const texts = [...folders].sort().map(async (folder) => {
    const { name, version, license } = JSON.parse(await readFile(join(folder, "package.json"), "utf8"));
    const file = (await readdir(folder)).find((one) => /^licen[cs]e/i.test(one));
    const text = file === undefined ? "" : `\n${(await readFile(join(folder, file), "utf8")).trim()}\n`;
    return `${name} ${version} (${license})\n${text}`;
  });
  return (await Promise.all(texts)).join(`\n${"-".repeat(72)}\n\n`);
}

/** The plugin for Inkscape, as it is put on this computer. */
import { existsSync } from "node:fs";
import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { CliError } from "../io.ts";
import type { PluginFile } from "./plugin-folder.ts";

/** The plugin's folder among the editor's extensions. */
export const PLUGIN_FOLDER = "tuckline";

/** The scripts that start the program, for Windows and for all others. */
const START = { windows: "tuckline.cmd", others: "tuckline.sh" } as const;

/**
 * The files of the built plugin, fit for a computer: the menu entries name the script that runs there, and one
 * more file tells it which Node to take.
 *
 * @param bundle where the built plugin is
 * @param node the program's path
 * @throws CliError where the plugin was not built
 */
export async function inkscapePlugin(
  bundle: string,
  platform: NodeJS.Platform,
  node: string,
): Promise<PluginFile[]> {
  if (!existsSync(bundle))
    throw new CliError(
      "tuckline: the plugin is missing from this copy of Tuckline; install Tuckline again, or build it with npm run build",
    );
  const names = await readdir(bundle);
  const isWindows = platform === "win32";
  const files = await Promise.all(
    names.map(async (name): Promise<PluginFile> => {
      const bytes = await readFile(join(bundle, name));
      if (name.endsWith(".inx") && isWindows)
        return { name, bytes: Buffer.from(bytes.toString().replace(START.others, START.windows)) };
      return { name, bytes, isExecutable: name === START.others };
    }),
  );
  return [...files, { name: "node-path", bytes: Buffer.from(`${node}\n`, "utf8") }];
}

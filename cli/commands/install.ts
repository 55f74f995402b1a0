/** `tuckline install`: puts the plugin of a desktop editor where that editor finds it. */
import { homedir } from "node:os";
import { join, resolve } from "node:path";
import type { Argv } from "yargs";
import { type Command, optionIn, type Values } from "../command.ts";
import { inkscapeExtensions } from "../install/folders.ts";
import { inkscapePlugin, PLUGIN_FOLDER } from "../install/inkscape.ts";
import { putPlugin } from "../install/plugin-folder.ts";
import { EXIT, emit, type Io } from "../io.ts";
import { packageRoot } from "../package-root.ts";
import { printable } from "../table.ts";
import { VERSION } from "../version.ts";

const USAGE = `$0 install <editor>

Put Tuckline into the menu of a desktop editor. Installing again, or over another version, is safe; $0 uninstall takes it out again.`;

/** Where the built plugin is. */
const BUNDLE = join(packageRoot(), "build", "inkscape");

export const editorOptions = (yargs: Argv): Argv =>
  yargs
    .positional("editor", {
      choices: ["inkscape"],
      demandOption: true,
      describe: "the editor",
    })
    .option("to", {
      type: "string",
      requiresArg: true,
      describe: "its folder of extensions; without it the user's own",
    });

/** The plugin's folder: in the folder that is named, else in the user's own. */
export function pluginFolder(values: Values, io: Io): string {
  const to = optionIn(values, "to");
  const { platform, env } = process;
  const extensions =
    to === undefined ? inkscapeExtensions({ platform, env, home: homedir() }) : resolve(io.cwd, to);
  return join(extensions, PLUGIN_FOLDER);
}

export const install: Command = {
  usage: "install <editor>",
  summary: "put Tuckline into the menu of a desktop editor",

  options: (yargs) =>
    editorOptions(yargs.usage(USAGE))
      .example("$0 install inkscape", "for yourself")
      .example("$0 install inkscape --to /usr/share/inkscape/extensions", "for everyone"),

  async run(values, io) {
    const folder = pluginFolder(values, io);
    const files = await inkscapePlugin(BUNDLE, process.platform, process.execPath);
    const before = await putPlugin(folder, files, VERSION, io);
    const over = before === null ? "" : `, over version ${before.version}`;
    await emit(
      io.stdout,
      `Tuckline ${VERSION} is installed in ${printable(folder)}${over}.\nStart Inkscape anew: it is in the menu Extensions.\n`,
    );
    return EXIT.done;
  },
};

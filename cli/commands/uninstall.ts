/** `tuckline uninstall`: takes the plugin of a desktop editor out again: exactly what `install` put there. */
import type { Command } from "../command.ts";
import { takePlugin } from "../install/plugin-folder.ts";
import { EXIT, emit } from "../io.ts";
import { printable } from "../table.ts";
import { editorOptions, pluginFolder } from "./install.ts";

const USAGE = `$0 uninstall <editor>

Take Tuckline out of the menu of a desktop editor: the files that $0 install put there, and no others.`;

export const uninstall: Command = {
  usage: "uninstall <editor>",
  summary: "take Tuckline out of the menu of a desktop editor",

  options: (yargs) => editorOptions(yargs.usage(USAGE)).example("$0 uninstall inkscape", "for yourself"),

  async run(values, io) {
    const folder = pluginFolder(values, io);
    const taken = await takePlugin(folder);
    const shown = printable(folder);
    if (taken === null) {
      await emit(io.stdout, `Tuckline is not installed in ${shown}; nothing was removed.\n`);
      return EXIT.done;
    }
    const left =
      taken.left.length === 0
        ? ""
        : `\nStill there, since Tuckline did not put it there: ${printable(taken.left.join(", "))}`;
    await emit(io.stdout, `Tuckline ${taken.was.version} is removed from ${shown}.${left}\n`);
    return EXIT.done;
  },
};

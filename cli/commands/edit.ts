/** `tuckline edit`: a general SVG editor in the browser with the embroidery panel in it, served from this machine. */
import { basename, dirname, resolve } from "node:path";
import { type Command, flagIn, optionIn, type Values } from "../command.ts";
import { openInBrowser } from "../edit/browser.ts";
import { DrawingFolder, whyNoName } from "../edit/folder.ts";
import { startServer } from "../edit/server.ts";
import { CliError, EXIT, emit, type Io, STANDARD } from "../io.ts";
import { packageRoot } from "../package-root.ts";
import { readSettings, readThreads, settingsOptions } from "../planning.ts";
import { printable } from "../table.ts";

const USAGE = `$0 edit [artwork]

Open a drawing in the browser: draw it, see at once how it will sew, drag what should be otherwise, and save.
Everything stays on this machine.`;

export const edit: Command = {
  usage: "edit [artwork]",
  summary: "draw and plan in the browser",

  options: (yargs) =>
    settingsOptions(
      yargs.usage(USAGE).positional("artwork", {
        type: "string",
        describe: "the drawing: .svg; without it the page offers the folder's drawings and a demo",
      }),
    )
      .option("threads", {
        type: "string",
        requiresArg: true,
        describe: "take threads from a CSV file with the columns name, code and hex",
      })
      .option("port", {
        type: "string",
        requiresArg: true,
        describe: "serve there; without it on a free port",
      })
      .option("no-open", { type: "boolean", describe: "print the address, open no browser" })
      .example("$0 edit heron-crest.svg", "open a drawing")
      .example("$0 edit heron-crest.svg --recipe knit", "sewn on fabric that stretches")
      .example("$0 edit --no-open --port 8123", "print the address only"),

  async run(values, io) {
    const named = await drawingNamed(values, io);
    const port = portIn(values);
    const { effective } = await readSettings(values, io);
    const threads = (await readThreads(values, io))?.threads;
    // Listened for from the start, so that an early Ctrl-C ends it cleanly too.
    const interrupted = io.interrupted?.();
    const server = await startServer(
      {
        ...named,
        port,
        given: givenIn(effective),
        threads,
        packageRoot: packageRoot(),
      },
      io,
    );
    try {
      await emit(io.stdout, `Tuckline is at ${server.url}\nEnd it with Ctrl-C.\n`);
      if (!flagIn(values, "no-open") && !(await openInBrowser(server.url)))
        await emit(io.stdout, "No browser could be started: open the address yourself.\n");
      await interrupted;
    } finally {
      await server.close();
    }
    return EXIT.done;
  },
};

async function drawingNamed(
  values: Values,
  io: Io,
): Promise<{ readonly folder: DrawingFolder; readonly name: string | null }> {
  const shown = values.artwork as string | undefined;
  if (shown === undefined) return { folder: await DrawingFolder.at(io.cwd, io), name: null };
  if (shown === "" || shown === STANDARD)
    throw new CliError("tuckline: edit saves to a file, not to standard output; name a file");
  const path = resolve(io.cwd, shown);
  const name = basename(path);
  const folder = await DrawingFolder.at(dirname(path), io);
  const why = whyNoName(name);
  if (why !== undefined) throw new CliError(`${printable(shown)}: ${why}`);
  await folder.read(name);
  return { folder, name };
}

function portIn(values: Values): number {
  const typed = optionIn(values, "port");
  if (typed === undefined) return 0;
  const port = Number(typed);
  if (!/^\d+$/.test(typed) || port < 1 || port > 65535)
    throw new CliError(`tuckline: --port is ${typed}; give a number from 1 to 65535`);
  return port;
}

/** What a person gave, without defaults and a recipe's figures: those give way to what the drawing says. */
function givenIn({ settings, origins }: Awaited<ReturnType<typeof readSettings>>["effective"]) {
  return Object.fromEntries(
    Object.entries(settings).filter(([name]) => {
      const origin = origins[name as keyof typeof origins];
      return origin !== "default" && !origin.startsWith("recipe ");
    }),
  );
}

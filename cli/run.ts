/** The command line as a function: words and streams in, an exit code out. Nothing here ends the process. */
import { CliError, EXIT, type ExitCode, emit, type Io } from "./io.ts";
import { parseWords } from "./parse.ts";
import { printable } from "./table.ts";

/** Wider help is hard to read; narrower terminals get their own width. */
const MOST_COLUMNS = 100;

/**
 * @param words what follows the program's name: `["plan", "crest.svg"]`
 * @returns 0 done, 1 done with findings at or above `--fail-on`, 2 bad usage or unreadable input; never rejects
 */
export async function run(words: readonly string[], io: Io): Promise<ExitCode> {
  try {
    const parsed = parseWords(words, Math.min(MOST_COLUMNS, io.stdout.columns ?? MOST_COLUMNS));
    if (parsed.kind === "run") return await parsed.run(io);
    await emit(parsed.kind === "show" ? io.stdout : io.stderr, `${parsed.text}\n`);
    return parsed.kind === "show" ? EXIT.done : EXIT.unusable;
  } catch (error) {
    await emit(io.stderr, `${printable(lineFor(error))}\n${io.debug ? stackOf(error) : ""}`);
    return EXIT.unusable;
  }
}

function lineFor(error: unknown): string {
  if (error instanceof CliError) return error.message;
  const what = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
  return `tuckline: this should not happen (${what}); please report it with the drawing (TUCKLINE_DEBUG=1 shows where)`;
}

const stackOf = (error: unknown): string => (error instanceof Error ? `${error.stack}\n` : "");

/**
 * The world as the command line sees it: three streams, a folder, and the one error that a person is told of.
 * Everything that touches the process itself is in main.ts.
 */
import type { Readable, Writable } from "node:stream";

export interface Io {
  readonly stdin: Readable;
  readonly stdout: Writable & { readonly columns?: number };
  readonly stderr: Writable & { readonly isTTY?: boolean; readonly columns?: number };
  /** Paths are read from here. */
  readonly cwd: string;
  /** Show the stack of an unexpected error. */
  readonly debug?: boolean;
  /** Resolves when the person wants an end of it (Ctrl-C); a command that runs until then waits for it. */
  readonly interrupted?: () => Promise<void>;
  /** Runs a step that is not to be cut short: an end that is wanted meanwhile comes after it, at the second word at once. */
  readonly uncut?: (step: () => Promise<void>) => Promise<void>;
}

export const EXIT = { done: 0, findings: 1, unusable: 2 } as const;
export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

/** Bad usage or unreadable input: its message is the whole line that goes to standard error. */
export class CliError extends Error {
  constructor(message: string) {
    super(message);
    this.name = "CliError";
  }
}

/** The name that stands for standard input or output. */
export const STANDARD = "-";

/**
 * Writes and waits until it is taken. A reader that has gone away (`tuckline … | head`) wants no more: that
 * is its right and no error.
 *
 * @throws CliError where the stream fails otherwise
 */
export function emit(stream: Writable, data: string | Uint8Array): Promise<void> {
  return new Promise((resolve, reject) => {
    if (stream.destroyed || stream.writableEnded) return resolve();
    stream.write(data, (error?: NodeJS.ErrnoException | null) => {
      if (!error || error.code === "EPIPE" || error.code === "ERR_STREAM_DESTROYED") return resolve();
      const why = error.code ?? error.message;
      reject(new CliError(`tuckline: the output cannot be passed on (${why}); check where it goes`));
    });
  });
}

#!/usr/bin/env node
import { tuneEngine } from "./engine.ts";
import type { Io } from "./io.ts";
import { run } from "./run.ts";

tuneEngine();

const ENDINGS = ["SIGINT", "SIGTERM", "SIGHUP"] as const;

/** A command that waits for its end itself also sees to it that nothing is cut short. */
let isAwaited = false;

const io: Io = {
  stdin: process.stdin,
  stdout: process.stdout,
  stderr: process.stderr,
  cwd: process.cwd(),
  debug: process.env.TUCKLINE_DEBUG === "1",
  interrupted: () => {
    isAwaited = true;
    return new Promise((resolve) => {
      for (const signal of ENDINGS) process.once(signal, () => resolve());
    });
  },
  uncut: async (step) => {
    if (isAwaited) return step();
    let wanted: NodeJS.Signals | undefined;
    const note = (signal: NodeJS.Signals): void => {
      wanted = signal;
    };
    for (const signal of ENDINGS) process.once(signal, note);
    try {
      await step();
    } finally {
      for (const signal of ENDINGS) process.off(signal, note);
      if (wanted !== undefined) process.kill(process.pid, wanted);
    }
  },
};

// A reader that goes away is told of by the write itself; without a listener it would end the process.
for (const stream of [io.stdout, io.stderr]) stream.on("error", () => undefined);

process.exitCode = await run(process.argv.slice(2), io);

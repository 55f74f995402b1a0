#!/usr/bin/env node
import type { Io } from "./io.ts";
import { run } from "./run.ts";

const io: Io = {
  stdin: process.stdin,
  stdout: process.stdout,
  stderr: process.stderr,
  cwd: process.cwd(),
  debug: process.env.TUCKLINE_DEBUG === "1",
  interrupted: () =>
    new Promise((resolve) => {
      for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"] as const) process.once(signal, () => resolve());
    }),
};

// A reader that goes away is told of by the write itself; without a listener it would end the process.
for (const stream of [io.stdout, io.stderr]) stream.on("error", () => undefined);

process.exitCode = await run(process.argv.slice(2), io);

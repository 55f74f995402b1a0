/** The server behind `tuckline edit`, on a folder with one drawing in a folder of its own. */
import { mkdir, mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { PassThrough } from "node:stream";
import { DrawingFolder } from "../../cli/edit/folder.ts";
import { type EditServer, startServer } from "../../cli/edit/server.ts";
import type { Io } from "../../cli/io.ts";
import { packageRoot } from "../../cli/package-root.ts";

export const FEATHER = `<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20"><path id="feather" d="M4 4h10v10z"/></svg>`;

/** Streams that nobody reads. */
export const silentIo = (): Io => ({
  stdin: new PassThrough(),
  stdout: new PassThrough(),
  stderr: new PassThrough(),
  cwd: process.cwd(),
});

export interface Club {
  /** What the server may not touch: to be removed in the end. */
  readonly outside: string;
  /** What it serves; `crest.svg` in it is a feather. */
  readonly folder: string;
  readonly server: EditServer;
}

export async function openClub(): Promise<Club> {
  const outside = await mkdtemp(join(tmpdir(), "tuckline-club-"));
  const folder = join(outside, "club");
  await mkdir(folder);
  await writeFile(join(folder, "crest.svg"), FEATHER);
  return { outside, folder, server: await serveFolder(folder, "crest.svg") };
}

/** Serves a folder, on any free port unless one is named. */
export async function serveFolder(path: string, name: string | null, port = 0): Promise<EditServer> {
  const io = silentIo();
  const folder = await DrawingFolder.at(path, io);
  return startServer({ folder, name, port, given: {}, threads: undefined, packageRoot: packageRoot() }, io);
}

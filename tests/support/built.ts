/** The program as `npm run build` makes it, for tests that start processes or threads of it: `npm test` builds first. */
import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";

/** @returns the path of a file below build/ */
export function built(name: string): string {
  const path = fileURLToPath(new URL(`../../build/${name}`, import.meta.url));
  if (!existsSync(path)) throw new Error(`build/${name} is missing: run "npm run build" first`);
  return path;
}

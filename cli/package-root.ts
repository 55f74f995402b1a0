/** The folder of this package's package.json: above the sources, and above `build/` once it is built. */
import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";

export function packageRoot(): string {
  let folder = new URL("..", import.meta.url);
  while (!existsSync(new URL("package.json", folder))) folder = new URL("..", folder);
  return fileURLToPath(folder);
}

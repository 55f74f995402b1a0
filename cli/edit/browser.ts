/** Opening an address in the artist's own browser. */
import { spawn } from "node:child_process";

/** The program that opens an address, by platform. */
const OPENERS: Readonly<Partial<Record<NodeJS.Platform, readonly [string, ...string[]]>>> = {
  darwin: ["open"],
  win32: ["cmd", "/c", "start", ""],
};

/** @returns whether a program took it; where none does, the artist opens the printed address by hand */
export function openInBrowser(url: string, platform: NodeJS.Platform = process.platform): Promise<boolean> {
  const [program, ...words] = OPENERS[platform] ?? ["xdg-open"];
  return new Promise((resolve) => {
    const child = spawn(program, [...words, url], { stdio: "ignore", detached: true });
    child.once("error", () => resolve(false));
    child.once("spawn", () => resolve(true));
    child.unref();
  });
}

/**
 * Where a desktop editor looks for what its user adds. Inkscape: `extensions` in its profile folder, which the
 * editor itself tells by `inkscape --user-data-directory`, and `INKSCAPE_PROFILE_DIR` moves elsewhere.
 */
import { posix, win32 } from "node:path";

/** What is known of the user's computer. */
export interface Computer {
  readonly platform: NodeJS.Platform;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly home: string;
}

/** The folder in which Inkscape looks for extensions. */
export function inkscapeExtensions({ platform, env, home }: Computer): string {
  const { join } = platform === "win32" ? win32 : posix;
  return join(env.INKSCAPE_PROFILE_DIR || inkscapeProfile({ platform, env, home }), "extensions");
}

function inkscapeProfile({ platform, env, home }: Computer): string {
  if (platform === "win32")
    return win32.join(env.APPDATA || win32.join(home, "AppData", "Roaming"), "inkscape");
  if (platform === "darwin")
    return posix.join(home, "Library", "Application Support", "org.inkscape.Inkscape", "config", "inkscape");
  return posix.join(env.XDG_CONFIG_HOME || posix.join(home, ".config"), "inkscape");
}

/** Loaded before a command that is measured: when it ends, it tells its peak memory in kilobytes on descriptor 3. */
import { writeSync } from "node:fs";

process.on("exit", () => {
  writeSync(3, String(process.resourceUsage().maxRSS));
});

/** `npm run api`: writes the reference of the programming interface to build/api/tuckline.md. */
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { packageRoot } from "../../cli/package-root.ts";
import { VERSION } from "../../cli/version.ts";
import { entriesOf, referencePage } from "./api-reference.ts";

const core = join(packageRoot(), "build", "core");
const declarations = (module: string) =>
  readFileSync(join(core, module.replace(/\.[jt]s$/, ".d.ts")), "utf8");

const entries = entriesOf(declarations("./index.ts"), declarations);
const folder = join(packageRoot(), "build", "api");
mkdirSync(folder, { recursive: true });
writeFileSync(join(folder, "tuckline.md"), referencePage(entries, VERSION));
console.log(`${entries.length} names: build/api/tuckline.md`);

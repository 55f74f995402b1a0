/**
 * The reference of the programming interface, made from the declarations that the compiler emits: for every name
 * that `core/index.ts` exports its docstring and its declaration, under the folder it comes from.
 *
 * Emitted declarations are regular, which is all that is relied on here: a statement of a module begins in the first
 * column, what belongs to it is indented or closes it, and its docstring stands right before it.
 */
export interface Entry {
  readonly name: string;
  /** The module it is declared in, as `index.d.ts` names it: `./layers/strip.ts`. */
  readonly module: string;
  /** The docstring without its stars; empty where there is none. */
  readonly doc: string;
  readonly declaration: string;
}

/**
 * Every export of an index of re-exports, in its order.
 *
 * @param index the text of `index.d.ts`
 * @param declarationsOf the text of the declarations of a module that the index names
 * @throws where a module does not declare what the index exports from it
 */
export function entriesOf(index: string, declarationsOf: (module: string) => string): Entry[] {
  const exports = [...index.matchAll(/^export (?:type )?\{([^}]*)\} from "([^"]+)";/gm)];
  return exports.flatMap(([, names, module]) => {
    const statements = statementsOf(declarationsOf(module));
    return names
      .split(",")
      .map((name) => name.trim().replace(/^type /, ""))
      .filter((name) => name !== "")
      .map((name) => entry(name, module, statements));
  });
}

function entry(name: string, module: string, statements: readonly Statement[]): Entry {
  const found = statements.filter((statement) => statement.name === name);
  if (found.length === 0) throw new Error(`${module} declares no ${name}`);
  return {
    name,
    module,
    doc: found.map(({ doc }) => doc).find((doc) => doc !== "") ?? "",
    declaration: found.map(({ text }) => text).join("\n"),
  };
}

interface Statement {
  readonly name: string;
  readonly doc: string;
  readonly text: string;
}

const DECLARES = /^(?:export )?(?:declare )?(?:abstract )?(?:function|const|class|interface|type) (\w+)/;

function statementsOf(module: string): Statement[] {
  const statements: Statement[] = [];
  let doc = "";
  for (const text of module.split(/\n(?=\/\*\*|export |declare |import |type |interface )/)) {
    const comment = /^\/\*\*([\s\S]*?)\*\/\s*/.exec(text);
    const rest = comment === null ? text : text.slice(comment[0].length);
    if (comment !== null) doc = plainDoc(comment[1]);
    const name = DECLARES.exec(rest)?.[1];
    if (name !== undefined)
      statements.push({ name, doc, text: rest.trim().replace(/^export (?:declare )?/, "") });
    if (rest.trim() !== "") doc = "";
  }
  return statements;
}

const plainDoc = (inside: string): string =>
  inside
    .split("\n")
    .map((line) => line.replace(/^ *\* ?/, "").trimEnd())
    .join("\n")
    .trim();

/** The reference as a page of Markdown. */
export function referencePage(entries: readonly Entry[], version: string): string {
  const parts = [...new Set(entries.map(({ module }) => partOf(module)))];
  const within = (part: string) => entries.filter(({ module }) => partOf(module) === part);
  return [
    `# Tuckline ${version}: programming interface`,
    `\`import { … } from "tuckline"\`. Text and records in, text and records out; nothing here reads a file. ${entries.length} names.`,
    parts.map((part) => `- [${part}](#${part})`).join("\n"),
    ...parts.flatMap((part) => [`## ${part}`, ...within(part).map(section)]),
    "",
  ].join("\n\n");
}

/** `./layers/strip.ts` → `layers`; what lies in no folder belongs to the planner as a whole. */
const partOf = (module: string): string => module.split("/").slice(1, -1)[0] ?? "general";

const section = ({ name, doc, declaration }: Entry): string =>
  [`### ${name}`, described(doc), `\`\`\`ts\n${declaration}\n\`\`\``]
    .filter((text) => text !== "")
    .join("\n\n");

/** Tags of a docstring as a list. */
const described = (doc: string): string =>
  doc
    .replace(/^@param (\w+)/gm, "- `$1`:")
    .replace(/^@returns/gm, "- returns")
    .replace(/^@throws/gm, "- throws");

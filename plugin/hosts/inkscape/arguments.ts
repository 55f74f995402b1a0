/**
 * What Inkscape tells an extension: `--NAME=value` for each parameter of its dialog, `--id=…` for each selected
 * element, `--selected-nodes=ELEMENT:SUBPATH:NODE` for each selected node of a path, and last the file that holds
 * the drawing as it is now.
 */

/** The parameter that tells which entry was chosen; the artist does not see it. */
export const ENTRY_FIELD = "entry";

/** A node of a path, as the editor counts them: subpaths from 0, and the nodes of each from 0. */
export interface SelectedNode {
  readonly element: string;
  readonly subpath: number;
  readonly node: number;
}

export interface Arguments {
  readonly values: Readonly<Record<string, string>>;
  readonly selection: readonly string[];
  readonly nodes: readonly SelectedNode[];
  /** Undefined where none is named. */
  readonly file: string | undefined;
}

export function readArguments(words: readonly string[]): Arguments {
  const values: Record<string, string> = {};
  const selection: string[] = [];
  const nodes: SelectedNode[] = [];
  let file: string | undefined;
  for (const word of words) {
    const [, name, value] = /^--([\w-]+)=(.*)$/s.exec(word) ?? [];
    if (name === undefined) file = word;
    else if (name === "id") selection.push(value);
    else if (name === "selected-nodes") nodes.push(...nodeIn(value));
    else values[name] = value;
  }
  return { values, selection, nodes, file };
}

function nodeIn(text: string): SelectedNode[] {
  const [, element, subpath, node] = /^(.+):(\d+):(\d+)$/s.exec(text) ?? [];
  return element === undefined ? [] : [{ element, subpath: Number(subpath), node: Number(node) }];
}

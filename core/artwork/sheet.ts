/**
 * Style sheets and the cascade (CSS Cascade 4, SVG 2 chapter 6): for each element, the declarations that win.
 *
 * From weak to strong: presentation attributes, sheet rules by specificity and then by order, the `style`
 * attribute; then the same again for what is `!important` (attributes can't be). css-tree parses, css-select
 * matches.
 */
import { compile } from "css-select";
import {
  type Block,
  type CssNode,
  type Declaration,
  generate,
  parse,
  type Selector,
  type StyleSheet,
} from "css-tree";
import { ArtworkError } from "../errors.ts";
import { MAX_STYLE_STEPS } from "./limits.ts";
import type { Notes } from "./notes.ts";
import { isValidValue, PRESENTATION_ATTRIBUTES } from "./properties.ts";
import { textIn } from "./tree.ts";
import type { XmlElement } from "./xml.ts";

/** Property name to its winning value, as written. */
export type Declared = ReadonlyMap<string, string>;

interface OneDeclaration {
  readonly property: string;
  readonly value: string;
  readonly important: boolean;
}

interface Rule {
  readonly specificity: number;
  readonly matches: (element: XmlElement) => boolean;
  readonly declarations: readonly OneDeclaration[];
}

/** Rules in the order in which they apply: by specificity, then as written. */
export type Sheet = readonly Rule[];

/**
 * All `<style>` elements of the drawing as one sheet. What can't be read is left out, with a finding.
 *
 * Matching its rules throws an `ArtworkError` where it takes more steps than the limit.
 */
export function readSheet(styles: readonly XmlElement[], notes: Notes): Sheet {
  const rules: Rule[] = [];
  const adapter = adapterWith(stepCounter());
  for (const style of styles) {
    const type = style.attributes.type ?? "";
    if (type !== "" && type !== "text/css") continue;
    if (!mediaApplies(style.attributes.media ?? "")) continue;
    addRules(parseCss(textIn(style)).children.toArray(), rules, adapter, notes);
  }
  return rules
    .map((rule, order) => ({ rule, order }))
    .sort((a, b) => a.rule.specificity - b.rule.specificity || a.order - b.order)
    .map(({ rule }) => rule);
}

/** The declarations that win on one element, inherited ones not among them. */
export function declaredOn(element: XmlElement, sheet: Sheet): Declared {
  const declared = new Map<string, string>();
  for (const name in element.attributes) {
    const value = element.attributes[name];
    if (PRESENTATION_ATTRIBUTES.has(name) && isValidValue(name, value)) declared.set(name, value.trim());
  }
  const matched = sheet.filter(({ matches }) => matches(element));
  const style = element.attributes.style;
  if (matched.length === 0 && style === undefined) return declared;
  const layers = matched.map(({ declarations }) => declarations);
  if (style !== undefined) layers.push(parseDeclarations(style));
  for (const important of [false, true])
    for (const declarations of layers)
      for (const one of declarations)
        if (one.important === important && isValidValue(one.property, one.value))
          declared.set(one.property, one.value);
  return declared;
}

const parseCss = (text: string): StyleSheet =>
  parse(text, { parseValue: false, parseRulePrelude: true }) as StyleSheet;

/** A `style` attribute; what is malformed in it is skipped. */
export function parseDeclarations(text: string): OneDeclaration[] {
  const list = parse(text, { context: "declarationList", parseValue: false });
  return list.type === "DeclarationList" ? declarationsIn(list.children.toArray()) : [];
}

const declarationsIn = (nodes: readonly CssNode[]): OneDeclaration[] =>
  nodes
    .filter((node): node is Declaration => node.type === "Declaration")
    .map(({ property, value, important }) => ({
      property: property.startsWith("--") ? property : property.toLowerCase(),
      value: generate(value).trim(),
      important: important === true,
    }));

function addRules(nodes: readonly CssNode[], rules: Rule[], adapter: TreeAdapter, notes: Notes): void {
  for (const node of nodes) {
    if (node.type === "Atrule") addAtRule(node.name.toLowerCase(), node, rules, adapter, notes);
    if (node.type !== "Rule") continue;
    if (node.prelude.type !== "SelectorList") {
      if (generate(node.prelude) !== "") skipped(generate(node.prelude), notes);
      continue;
    }
    const declarations = declarationsIn(node.block.children.toArray());
    for (const selector of node.prelude.children.toArray()) {
      if (selector.type !== "Selector") continue;
      const matches = matcher(generate(selector), adapter);
      if (matches === null) skipped(generate(selector), notes);
      else
        rules.push({
          specificity: specificityOf(selector),
          matches,
          declarations,
        });
    }
  }
}

function addAtRule(
  name: string,
  node: { prelude: CssNode | null; block: Block | null },
  rules: Rule[],
  adapter: TreeAdapter,
  notes: Notes,
): void {
  if (name === "import") {
    notes.add(
      "external-reference",
      "warning",
      "",
      "A style sheet of the drawing imports another file, which is not fetched.",
      "Copy those styles into the drawing.",
    );
    return;
  }
  if (node.block === null) return;
  const applies = name === "media" && mediaApplies(node.prelude === null ? "" : generate(node.prelude));
  if (applies || name === "layer") addRules(node.block.children.toArray(), rules, adapter, notes);
}

const mediaApplies = (query: string): boolean =>
  query.trim() === "" || query.split(",").some((one) => /^\s*(?:only\s+)?(?:all|screen)\s*$/i.test(one));

const skipped = (selector: string, notes: Notes): void =>
  notes.add(
    `selector-not-read`,
    "warning",
    "",
    `A style rule can’t be applied: the selector “${selector.slice(0, 60)}” is not understood.`,
    "Set the style on the elements themselves.",
  );

/** Specificity as one number: ids, then classes and attributes, then types (Selectors 4, section 17). */
function specificityOf(selector: CssNode): number {
  let sum = 0;
  const parts = "children" in selector ? (selector.children?.toArray() ?? []) : [];
  for (const part of parts) {
    switch (part.type) {
      case "IdSelector":
        sum += 1_000_000;
        break;
      case "ClassSelector":
      case "AttributeSelector":
        sum += 1_000;
        break;
      case "TypeSelector":
        if (!part.name.endsWith("*")) sum += 1;
        break;
      case "PseudoElementSelector":
        sum += 1;
        break;
      case "PseudoClassSelector":
        sum += pseudoSpecificity(part.name, part.children?.toArray() ?? []);
        break;
    }
  }
  return sum;
}

function pseudoSpecificity(name: string, args: readonly CssNode[]): number {
  if (name === "where") return 0;
  const lists = args.flatMap((arg) => (arg.type === "Nth" && arg.selector !== null ? [arg.selector] : [arg]));
  const selectors = lists
    .flatMap((list) => (list.type === "SelectorList" ? list.children.toArray() : [list]))
    .filter((one): one is Selector => one.type === "Selector");
  const greatest = Math.max(0, ...selectors.map(specificityOf));
  return ["is", "not", "has", "matches"].includes(name) ? greatest : 1_000 + greatest;
}

type Node = XmlElement["children"][number];

/** Counts steps of matching: a rule asked about an element, a node that is looked at on the way. */
type StepCounter = (steps: number) => void;

function stepCounter(): StepCounter {
  let left = MAX_STYLE_STEPS;
  return (steps) => {
    left -= steps;
    if (left < 0)
      throw new ArtworkError(
        "Its style rules take too long to match: set the styles on the elements themselves.",
      );
  };
}

type TreeAdapter = ReturnType<typeof adapterWith>;

/** How css-select walks our tree. */
const adapterWith = (count: StepCounter) => {
  const nodesIn = (element: XmlElement): Node[] => {
    count(element.children.length);
    return [...element.children];
  };
  return {
    isTag: (node: Node): node is XmlElement => {
      count(1);
      return node.type === "element";
    },
    getAttributeValue: (element: XmlElement, name: string): string | undefined =>
      Object.hasOwn(element.attributes, name) ? element.attributes[name] : undefined,
    hasAttrib: (element: XmlElement, name: string): boolean => Object.hasOwn(element.attributes, name),
    getChildren: (node: Node): Node[] => (node.type === "element" ? nodesIn(node) : []),
    getName: (element: XmlElement): string => element.name,
    getParent: (element: XmlElement): Node | null => element.parent,
    getSiblings: (node: Node): Node[] =>
      node.type === "element" && node.parent !== null ? nodesIn(node.parent) : [node],
    prevElementSibling: (node: Node): XmlElement | null => {
      if (node.type !== "element" || node.parent === null) return null;
      const siblings = nodesIn(node.parent).filter((sibling) => sibling.type === "element");
      return siblings[siblings.indexOf(node) - 1] ?? null;
    },
    getText: (node: Node): string => (node.type === "text" ? node.text : textIn(node)),
    removeSubsets: (nodes: Node[]): Node[] => nodes,
    count,
  };
};

function matcher(selector: string, adapter: TreeAdapter): ((element: XmlElement) => boolean) | null {
  try {
    const matches = compile<Node, XmlElement>(selector, { xmlMode: true, adapter, cacheResults: false });
    return (element) => {
      adapter.count(1);
      return matches(element);
    };
  } catch {
    return null;
  }
}

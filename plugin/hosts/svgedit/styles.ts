/**
 * Styles worked out. The editor turns `style` attributes into presentation attributes, which are the weakest
 * voice in the cascade, and lets style sheets loose on the whole page. So the cascade is worked out first, by
 * the browser itself, in a shadow tree that nothing else can see: what a rule or a `style` attribute sets on an
 * element becomes an attribute, and the editor gets no style sheet at all.
 */
import type { XmlElement } from "../../../core/artwork/xml.ts";
import { escapeXml } from "./escape.ts";
import { isKnown, SVG_NAMESPACE } from "./vocabulary.ts";

export interface ResolvedStyles {
  /** Properties that rules and `style` attributes set, by element. */
  readonly of: ReadonlyMap<XmlElement, ReadonlyMap<string, string>>;
}

/** Properties that SVG lets stand as attributes (SVG 2, appendix "Property index"). */
const PRESENTATION = new Set(
  `clip-path clip-rule color cx cy d direction display dominant-baseline fill fill-opacity fill-rule filter
   flood-color flood-opacity font-family font-size font-style font-weight height letter-spacing lighting-color
   marker-end marker-mid marker-start mask opacity overflow paint-order r rx ry shape-rendering stop-color
   stop-opacity stroke stroke-dasharray stroke-dashoffset stroke-linecap stroke-linejoin stroke-miterlimit
   stroke-opacity stroke-width text-anchor text-decoration transform vector-effect visibility width word-spacing
   x y`.split(/\s+/),
);

export const isPresentation = (name: string): boolean => PRESENTATION.has(name);

/** Named shorthands that browsers list by their parts. */
const SHORTHAND: Readonly<Record<string, string>> = {
  "text-decoration-line": "text-decoration",
  "overflow-x": "overflow",
  "mask-image": "mask",
};

export function resolveStyles(root: XmlElement, keyOf: ReadonlyMap<XmlElement, number>): ResolvedStyles {
  const sheets = sheetsIn(root).map(parseSheet);
  const hasStyles = [...keyOf.keys()].some(({ attributes }) => attributes.style !== undefined);
  if (sheets.length === 0 && !hasStyles) return { of: new Map() };

  const host = document.createElement("div");
  host.style.cssText = "position:absolute;width:0;height:0;overflow:hidden;visibility:hidden";
  const shadow = host.attachShadow({ mode: "closed" });
  document.body.append(host);
  try {
    shadow.adoptedStyleSheets = sheets;
    const parsed = new DOMParser().parseFromString(styledMarkup(root, keyOf), "image/svg+xml");
    for (const each of parsed.querySelectorAll<SVGElement>("[style]")) takeAddressesOut(each.style);
    const svg = document.importNode(parsed.documentElement, true);
    shadow.append(svg);
    const elements = new Map([...shadow.querySelectorAll("[data-key]")].map((each) => [keyIn(each), each]));
    const named = namedProperties(shadow, sheets);
    const of = new Map<XmlElement, ReadonlyMap<string, string>>();
    for (const [element, key] of keyOf) {
      const inDocument = elements.get(key);
      if (inDocument === undefined) continue;
      const properties = new Set(named.get(inDocument));
      for (const name of (inDocument as SVGElement).style) properties.add(name);
      const worked = workedOut(inDocument, properties);
      if (worked.size > 0) of.set(element, worked);
    }
    return { of };
  } finally {
    host.remove();
  }
}

const keyIn = (element: Element): number => Number(element.getAttribute("data-key"));

function sheetsIn(element: XmlElement): string[] {
  if (element.name === "style" && element.namespace === SVG_NAMESPACE) {
    const isCss = /^\s*(text\/css)?\s*$/i.test(element.attributes.type ?? "");
    const text = element.children.map((child) => (child.type === "text" ? child.text : "")).join("");
    const { media } = element.attributes;
    if (!isCss || text.trim() === "") return [];
    return [media === undefined ? text : `@media ${media} {${text}}`];
  }
  return element.children.flatMap((child) => (child.type === "element" ? sheetsIn(child) : []));
}

/** A sheet made so takes nothing in from elsewhere: `@import` does not work in it. */
function parseSheet(text: string): CSSStyleSheet {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(text);
  takeRulesOut(sheet);
  return sheet;
}

/** Rules that load fonts, and addresses in the others, before any of them is in force. */
function takeRulesOut(list: CSSStyleSheet | CSSGroupingRule): void {
  for (let k = list.cssRules.length - 1; k >= 0; k--) {
    const rule = list.cssRules[k];
    if (rule instanceof CSSFontFaceRule) list.deleteRule(k);
    else if (rule instanceof CSSStyleRule) takeAddressesOut(rule.style);
    else if (rule instanceof CSSGroupingRule) takeRulesOut(rule);
  }
}

/** Addresses outside the drawing, as the browser writes them once it has read them; escapes are gone then. */
const ADDRESS = /url\(\s*['"]?(?!#|data:)/i;

function takeAddressesOut(style: CSSStyleDeclaration): void {
  for (const name of [...style]) if (ADDRESS.test(style.getPropertyValue(name))) style.removeProperty(name);
}

/** Which properties rules name for which element. */
function namedProperties(shadow: ShadowRoot, sheets: readonly CSSStyleSheet[]): Map<Element, Set<string>> {
  const named = new Map<Element, Set<string>>();
  const visit = (rules: CSSRuleList): void => {
    for (const rule of rules) {
      if (rule instanceof CSSStyleRule) {
        for (const element of shadow.querySelectorAll(rule.selectorText)) {
          const properties = named.get(element) ?? new Set<string>();
          for (const name of rule.style) properties.add(name);
          named.set(element, properties);
        }
      } else if (rule instanceof CSSMediaRule && matchMedia(rule.conditionText).matches) visit(rule.cssRules);
      else if (rule instanceof CSSSupportsRule) visit(rule.cssRules);
    }
  };
  for (const sheet of sheets) visit(sheet.cssRules);
  return named;
}

function workedOut(element: Element, properties: ReadonlySet<string>): Map<string, string> {
  const worked = new Map<string, string>();
  if (properties.size === 0) return worked;
  const style = getComputedStyle(element);
  for (const listed of properties) {
    const name = SHORTHAND[listed] ?? listed;
    if (!PRESENTATION.has(name)) continue;
    const value = style.getPropertyValue(name);
    if (value !== "") worked.set(name, asAttribute(name, value));
  }
  return worked;
}

/** A computed value as the editor's fields read it: colours as `#rrggbb`, lengths as bare numbers. */
function asAttribute(name: string, value: string): string {
  if (name === "d") return /^path\("(.*)"\)$/.exec(value)?.[1] ?? value;
  const opaque = /^rgb\((\d+), (\d+), (\d+)\)$/.exec(value);
  if (opaque !== null)
    return `#${opaque
      .slice(1)
      .map((part) => Number(part).toString(16).padStart(2, "0"))
      .join("")}`;
  return value.replace(/(^|[\s,(])(-?[\d.]+(?:e[-+]?\d+)?)px(?=$|[\s,)])/g, "$1$2");
}

/** What would load something, or have the browser complain of a slip in it once more. */
const UNNEEDED = new Set(["xmlns", "href", "d", "points"]);

/** The drawing with its classes, ids and styles, for matching rules; it loads nothing from elsewhere. */
function styledMarkup(element: XmlElement, keyOf: ReadonlyMap<XmlElement, number>): string {
  const attributes = Object.entries(element.attributes)
    .filter(
      ([name, value]) =>
        !name.startsWith("on") &&
        !name.includes(":") &&
        !UNNEEDED.has(name) &&
        (name === "style" || !(ADDRESS.test(value) || value.includes("\\"))),
    )
    .map(([name, value]) => ` ${name}="${escapeXml(value)}"`)
    .join("");
  const children = element.children
    .map((child) =>
      child.type === "element" && isKnown(child) && child.name !== "style" ? styledMarkup(child, keyOf) : "",
    )
    .join("");
  const key = keyOf.get(element);
  const space = element.parent === null ? ` xmlns="${SVG_NAMESPACE}"` : "";
  return `<${element.name}${space}${key === undefined ? "" : ` data-key="${key}"`}${attributes}>${children}</${element.name}>`;
}

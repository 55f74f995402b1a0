/** HTML as text: what is not markup is escaped, wherever it comes from. */

/** An attribute whose value is `undefined` is left out. */
export type HtmlAttributes = Readonly<Record<string, string | number | undefined>>;

/** Markup that is safe to put into a page. */
export interface Html {
  readonly html: string;
}

export type Content = Html | string | number | readonly Content[];

/** An element with an end tag; text in its content is escaped. */
export const tag = (name: string, attributes: HtmlAttributes, ...content: readonly Content[]): Html => ({
  html: `<${name}${attributesText(attributes)}>${content.map(htmlOf).join("")}</${name}>`,
});

/** An element without content and end tag: `meta`. */
export const voidTag = (name: string, attributes: HtmlAttributes): Html => ({
  html: `<${name}${attributesText(attributes)}>`,
});

/** Markup that was made elsewhere and is known to be sound. */
export const raw = (html: string): Html => ({ html });

export function htmlOf(content: Content): string {
  if (typeof content === "string") return escapeHtml(content);
  if (typeof content === "number") return String(content);
  if ("html" in content) return content.html;
  return content.map(htmlOf).join("");
}

const attributesText = (attributes: HtmlAttributes): string =>
  Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(([name, value]) => ` ${name}="${escapeHtml(String(value))}"`)
    .join("");

const REFERENCES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/**
 * Text for content and for attribute values in quotes. Control characters, lone surrogates and noncharacters, for
 * which HTML has no way to be written, become U+FFFD; so do those that turn the direction of what follows, by which
 * a name could pass for another (Unicode UAX #9, 2.1 to 2.5).
 */
export const escapeHtml = (text: string): string =>
  text
    .replace(/[&<>"']/g, (character) => REFERENCES[character])
    .replace(
      // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what this is about
      /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069\ufdd0-\ufdef\ufffe\uffff]|\p{Surrogate}/gu,
      "\ufffd",
    );

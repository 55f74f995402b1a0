/**
 * XML text of the elements that are added to a drawing. It is plain ASCII (everything else becomes a character
 * reference), so that it is right in whatever encoding the file declares.
 */

export type Attributes = Readonly<Record<string, string | number | undefined>>;

/** Writes elements under the name prefix that the drawing's root has: `""`, or `"svg:"` in `<svg:svg>`. */
export interface Markup {
  /** An element; attributes that are `undefined` are left out. Without content it closes itself. */
  element(name: string, attributes: Attributes, content?: readonly string[]): string;
  /** An element that holds escaped text only. */
  text(name: string, text: string): string;
}

export const markup = (prefix: string): Markup => ({
  element(name, attributes, content) {
    let open = `<${prefix}${name}`;
    for (const key in attributes) {
      const value = attributes[key];
      if (value !== undefined) open += ` ${key}="${escapeXml(String(value))}"`;
    }
    if (content === undefined) return `${open}/>`;
    return `${open}>\n${content.map((child) => `${child}\n`).join("")}</${prefix}${name}>`;
  },
  text: (name, text) => `<${prefix}${name}>${escapeXml(text)}</${prefix}${name}>`,
});

const NOT_PLAIN = /[^ !#-%'-;=?-~]/gu;

/** Text for an attribute value or for content. What XML 1.0 has no way to write becomes U+FFFD. */
export const escapeXml = (text: string): string =>
  text.replace(NOT_PLAIN, (character) => {
    const code = character.codePointAt(0) as number;
    return `&#${isXmlCharacter(code) ? code : 0xfffd};`;
  });

/** XML 1.0, fifth edition, production 2 (Char). */
const isXmlCharacter = (code: number): boolean =>
  code === 0x9 ||
  code === 0xa ||
  code === 0xd ||
  (code >= 0x20 && code <= 0xd7ff) ||
  (code >= 0xe000 && code <= 0xfffd) ||
  code >= 0x10000;

/** Text for XML: in content and, with its double quotes, in attributes. White space in attributes is kept as it is. */
export const escapeXml = (text: string): string =>
  text.replace(/[&<>"\t\n\r]/g, (character) => ESCAPES[character] ?? character);

const ESCAPES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "\t": "&#9;",
  "\n": "&#10;",
  "\r": "&#13;",
};

/** The same for content, where line ends and quotes stay as they are. */
export const escapeContent = (text: string): string =>
  text.replace(/[&<>]/g, (character) => ESCAPES[character]);

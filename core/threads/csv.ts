/**
 * Comma-separated values by RFC 4180: records end at a line break, fields are separated by commas, and a field in
 * double quotes may hold commas, line breaks and doubled double quotes. Beyond the RFC, a lone LF or CR ends a
 * record too, as many programs write it, and a line with nothing on it is passed over.
 */

export interface CsvRecord {
  readonly fields: readonly string[];
  /** The line that it begins on, from 1. */
  readonly line: number;
}

/** Text that is not CSV: what is wrong, and the line, from 1. */
export class CsvError extends Error {
  readonly line: number;

  constructor(message: string, line: number) {
    super(message);
    this.name = "CsvError";
    this.line = line;
  }
}

/** A quoted field, else what reaches to the next comma or line break. */
const FIELD = /"([^"]*(?:""[^"]*)*)"(?!")|[^,\r\n]*/y;
const LINE_BREAK = /\r\n|\r|\n/y;

/** @throws CsvError for a quote that is not closed or stands where none may */
export function readCsv(text: string): CsvRecord[] {
  const records: CsvRecord[] = [];
  let at = text.startsWith("\ufeff") ? 1 : 0;
  let line = 1;

  const take = (pattern: RegExp): RegExpExecArray | null => {
    pattern.lastIndex = at;
    const match = pattern.exec(text);
    if (match !== null) at = pattern.lastIndex;
    return match;
  };
  const field = (): string => {
    const [written, quoted] = take(FIELD)!;
    if (quoted === undefined && written.includes('"'))
      throw new CsvError(
        written.startsWith('"')
          ? "a double quote opens here and is not closed; close it"
          : "a double quote stands inside a field; put the whole field in quotes and double the inner ones",
        line,
      );
    line += linesIn(written);
    return quoted === undefined ? written : quoted.replaceAll('""', '"');
  };

  while (at < text.length) {
    if (take(LINE_BREAK)) {
      line++;
      continue;
    }
    const start = line;
    const fields = [field()];
    while (text[at] === ",") {
      at++;
      fields.push(field());
    }
    if (at < text.length && !take(LINE_BREAK))
      throw new CsvError(
        "something follows a closing double quote; put a comma between, or take it out",
        line,
      );
    line++;
    records.push({ fields, line: start });
  }
  return records;
}

const linesIn = (text: string): number => text.split(/\r\n|\r|\n/).length - 1;

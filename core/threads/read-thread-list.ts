/**
 * A list of threads as CSV (RFC 4180): name, code and colour of each. A first record that names its columns
 * (`name`, `code`, `hex`, in any order, others among them) says where they stand; without it they come in this
 * order.
 */
import { CsvError, type CsvRecord, readCsv } from "./csv.ts";
import type { Thread } from "./types.ts";

/** A list that cannot be used: what is wrong and what to do, in one line, and the line of the list, from 1. */
export class ThreadListError extends Error {
  readonly line: number;

  constructor(message: string, line: number) {
    super(message);
    this.name = "ThreadListError";
    this.line = line;
  }
}

const COLUMNS = ["name", "code", "hex"] as const;
type Columns = { readonly [Name in (typeof COLUMNS)[number]]: number };

/** Ranges of thread that are sold have some hundreds; common practice, no source. */
const MOST_THREADS = 2000;

/**
 * Reads a list of threads.
 *
 * @throws ThreadListError for text that is not CSV, a record without a name or a colour, a code that is given
 * twice, and an empty list
 */
export function readThreadList(csv: string): Thread[] {
  const records = recordsOf(csv);
  const header = records.length > 0 ? columnsNamedIn(records[0]) : null;
  const columns = header ?? { name: 0, code: 1, hex: 2 };
  const width = header ? records[0].fields.length : COLUMNS.length;
  const rows = header ? records.slice(1) : records;
  if (rows.length === 0)
    throw new ThreadListError("there is no thread in this list; write a line for each: name,code,#rrggbb", 1);
  if (rows.length > MOST_THREADS)
    throw new ThreadListError(
      `there are more than ${MOST_THREADS} threads; shorten the list`,
      rows[MOST_THREADS].line,
    );

  const lineOfCode = new Map<string, number>();
  return rows.map((record) => {
    const thread = threadOf(record, columns, width);
    const before = lineOfCode.get(thread.code);
    if (before !== undefined)
      throw new ThreadListError(
        `the code "${thread.code}" is on line ${before} already; give each thread its own`,
        record.line,
      );
    if (thread.code !== "") lineOfCode.set(thread.code, record.line);
    return thread;
  });
}

function recordsOf(csv: string): CsvRecord[] {
  try {
    return readCsv(csv);
  } catch (error) {
    if (error instanceof CsvError) throw new ThreadListError(error.message, error.line);
    throw error;
  }
}

/** Where the columns stand, or `null` where the record is no header: it has no cell that says `hex`. */
function columnsNamedIn({ fields, line }: CsvRecord): Columns | null {
  const names = fields.map((field) => field.trim().toLowerCase());
  if (!names.includes("hex")) return null;
  const [name, code, hex] = COLUMNS.map((column) => {
    const place = names.indexOf(column);
    if (place < 0) throw new ThreadListError(`no column is named "${column}"; name it so`, line);
    if (names.indexOf(column, place + 1) >= 0)
      throw new ThreadListError(`two columns are named "${column}"; rename one`, line);
    return place;
  });
  return { name, code, hex };
}

function threadOf({ fields, line }: CsvRecord, columns: Columns, width: number): Thread {
  if (fields.length !== width)
    throw new ThreadListError(
      `there are ${fields.length} fields here and should be ${width}; put a field that holds a comma in double quotes`,
      line,
    );
  const name = fields[columns.name].trim();
  if (name === "") throw new ThreadListError("this thread has no name; give it one", line);
  const written = fields[columns.hex].trim();
  const hex = hexOf(written);
  if (hex === null)
    throw new ThreadListError(
      `"${written.slice(0, 40)}" is no colour; write six hexadecimal digits, as in #4a6274`,
      line,
    );
  return { name, code: fields[columns.code].trim(), hex };
}

/** `#rrggbb` from six or three digits, with or without the sign before them. */
function hexOf(text: string): string | null {
  const digits = /^#?([0-9a-f]{6}|[0-9a-f]{3})$/i.exec(text)?.[1].toLowerCase();
  if (digits === undefined) return null;
  return `#${digits.length === 6 ? digits : [...digits].map((digit) => digit + digit).join("")}`;
}

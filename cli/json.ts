import { type Input, placeOf } from "./input.ts";
import { CliError } from "./io.ts";

/** Text without the byte order mark that some editors put before JSON. */
export const withoutMark = (text: string): string => text.replace(/^\ufeff/, "");

/** @throws CliError with line and column where the input is not JSON */
export function parseJson(input: Input): unknown {
  const text = withoutMark(input.text);
  try {
    return JSON.parse(text);
  } catch (error) {
    // The engine's message has the offset, except where the text ends too early.
    const offset = /position (\d+)/.exec((error as Error).message)?.[1];
    const { line, column } = placeOf(text, offset === undefined ? text.length : Number(offset));
    throw new CliError(
      `${input.shown}:${line}:${column}: this is not JSON; look for a missing comma, quote or brace`,
    );
  }
}

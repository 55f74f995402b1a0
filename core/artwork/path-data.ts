/**
 * Path data to an outline with absolute coordinates.
 *
 * The grammar is svg-path-parser's. It recurses with the length of its input and gives up the whole text at
 * the first error, while SVG draws a path up to its error (SVG 2, 9.5.4). So the data are cut into chunks of
 * whole commands; a chunk that fails is cut again at its commands, and the failing command at its arguments.
 */
import parse, { type ParsedCommand } from "svg-path-parser";
import type { Point } from "../geometry/types.ts";
import { requirePoints } from "./limits.ts";
import type { Outline, Segment } from "./outline.ts";

export interface PathData {
  readonly outline: Outline;
  /** What could not be read, where the data hold an error; the outline ends before it. */
  readonly error?: string;
}

/** Long enough to spread the parser's cost a call, short enough never to strain its recursion. */
const CHUNK_LENGTH = 2000;

/** The arguments of each command: n for a number, f for an arc's flag, which needs nothing after it. */
const ARGUMENTS: Readonly<Record<string, string>> = {
  m: "nn",
  l: "nn",
  h: "n",
  v: "n",
  c: "nnnnnn",
  s: "nnnn",
  q: "nnnn",
  t: "nn",
  a: "nnnffnn",
};

/**
 * Reads a `d` attribute. What follows an error is dropped, as SVG says.
 *
 * @throws ArtworkError only where the data hold more commands than the limit on points allows
 */
export function readPathData(data: string): PathData {
  const pen = new Pen();
  const text = data.replaceAll("\f", " ").trim();
  if (text === "" || text === "none") return { outline: [] };
  if (!/^[Mm]/.test(text))
    return {
      outline: [],
      error: `it begins with “${text.slice(0, 12)}” instead of M`,
    };
  for (const chunk of chunksOf(text)) {
    const commands = tryParse(chunk);
    if (commands !== null) {
      pen.draw(commands);
      continue;
    }
    let read = 0;
    for (const command of commandsIn(chunk)) {
      const whole = tryParse(command);
      if (whole === null) {
        pen.draw(validPart(command));
        const from = chunk.slice(read, read + 24);
        return { outline: pen.finish(), error: `it can’t be read from “${from}” on` };
      }
      pen.draw(whole);
      read += command.length;
    }
  }
  return { outline: pen.finish() };
}

/** Each command with its arguments, as written. */
const commandsIn = (text: string): string[] => text.match(/[^0-9.,+\-eE\s][^a-df-zA-DF-Z]*/g) ?? [];

/** Whole commands gathered up to the chunk length; an argument list longer than that becomes several commands. */
function* chunksOf(text: string): Generator<string> {
  let chunk = "";
  for (const command of commandsIn(text)) {
    for (const part of command.length > CHUNK_LENGTH ? splitLong(command) : [command]) {
      if (chunk.length + part.length > CHUNK_LENGTH && chunk !== "") {
        yield chunk;
        chunk = "";
      }
      chunk += part;
    }
  }
  if (chunk !== "") yield chunk;
}

/** A long implicit list as several commands. Whatever does not fit the grammar ends up in the last, cut short. */
function* splitLong(command: string): Generator<string> {
  let code = command[0];
  let from = 1;
  let at = 1;
  for (let end = endOfGroup(command, at); end > 0; end = endOfGroup(command, at)) {
    at = end;
    if (at - from < CHUNK_LENGTH / 2) continue;
    yield code + withoutSeparator(command.slice(from, at));
    from = at;
    if (code === "M") code = "L";
    if (code === "m") code = "l";
  }
  if (command.slice(from).trim() !== "") yield code + command.slice(from, from + CHUNK_LENGTH);
}

/** Where the group of arguments that begins at `at` ends, with the separator after it; -1 where there is none. */
function endOfGroup(command: string, at: number): number {
  const number = /[ \t\r\n]*[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?[ \t\r\n]*,?/y;
  const flag = /[ \t\r\n]*[01][ \t\r\n]*,?/y;
  const kinds = ARGUMENTS[command[0].toLowerCase()];
  if (kinds === undefined) return -1;
  let end = at;
  for (const kind of kinds) {
    const token = kind === "f" ? flag : number;
    token.lastIndex = end;
    if (!token.test(command)) return -1;
    end = token.lastIndex;
  }
  return end;
}

const withoutSeparator = (text: string): string => text.replace(/[\s,]+$/, "");

/** The parser wants data that begin with a moveto, and takes a first `m` for absolute: it gets one to throw away. */
function tryParse(chunk: string): ParsedCommand[] | null {
  try {
    return parse(`M0 0${chunk}`).slice(1);
  } catch {
    return null;
  }
}

/** The whole argument groups at the beginning of a command that fails further on. */
function validPart(command: string): ParsedCommand[] {
  let valid = 1;
  for (let end = endOfGroup(command, valid); end > 0; end = endOfGroup(command, valid)) valid = end;
  return valid === 1 ? [] : (tryParse(withoutSeparator(command.slice(0, valid))) ?? []);
}

/** Follows the commands with the current point, the start of the subpath, and the control point to mirror. */
class Pen {
  readonly #subpaths: { start: Point; segments: Segment[]; closed: boolean }[] = [];
  #drawn = 0;
  #segments: Segment[] | null = null;
  #start: Point = [0, 0];
  #at: Point = [0, 0];
  /** The last control point, and the kind of curve that it belongs to. */
  #control: Point = [0, 0];
  #controlOf: "cubic" | "quadratic" | "none" = "none";

  draw(commands: readonly ParsedCommand[]): void {
    this.#drawn += commands.length;
    requirePoints(this.#drawn);
    for (const command of commands) this.#command(command);
  }

  finish(): Outline {
    return this.#subpaths;
  }

  #command(c: ParsedCommand): void {
    const relative = c.code >= "a";
    const [ox, oy] = relative ? this.#at : [0, 0];
    switch (c.code.toUpperCase()) {
      case "M":
        this.#at = [c.x + ox, c.y + oy];
        this.#start = this.#at;
        this.#segments = null;
        this.#open();
        this.#controlOf = "none";
        break;
      case "Z":
        this.#open();
        this.#subpaths[this.#subpaths.length - 1].closed = true;
        this.#segments = null;
        this.#at = this.#start;
        this.#controlOf = "none";
        break;
      case "L":
        this.#add({ kind: "line", to: [c.x + ox, c.y + oy] });
        break;
      case "H":
        this.#add({ kind: "line", to: [c.x + ox, this.#at[1]] });
        break;
      case "V":
        this.#add({ kind: "line", to: [this.#at[0], c.y + oy] });
        break;
      case "C":
        this.#cubic([c.x1 + ox, c.y1 + oy], [c.x2 + ox, c.y2 + oy], [c.x + ox, c.y + oy]);
        break;
      case "S":
        this.#cubic(this.#mirrored("cubic"), [c.x2 + ox, c.y2 + oy], [c.x + ox, c.y + oy]);
        break;
      case "Q":
        this.#quadratic([c.x1 + ox, c.y1 + oy], [c.x + ox, c.y + oy]);
        break;
      case "T":
        this.#quadratic(this.#mirrored("quadratic"), [c.x + ox, c.y + oy]);
        break;
      case "A":
        this.#add({
          kind: "arc",
          rx: Math.abs(c.rx),
          ry: Math.abs(c.ry),
          rotationDeg: c.xAxisRotation,
          largeArc: c.largeArc,
          sweep: c.sweep,
          to: [c.x + ox, c.y + oy],
        });
        break;
    }
  }

  /** After a closepath, a command other than moveto begins a subpath at the same start. */
  #open(): Segment[] {
    if (this.#segments === null) {
      this.#segments = [];
      this.#subpaths.push({
        start: this.#at,
        segments: this.#segments,
        closed: false,
      });
    }
    return this.#segments;
  }

  #add(segment: Segment): void {
    this.#open().push(segment);
    this.#at = segment.to;
    this.#controlOf = "none";
  }

  #cubic(control1: Point, control2: Point, to: Point): void {
    this.#add({ kind: "cubic", control1, control2, to });
    this.#control = control2;
    this.#controlOf = "cubic";
  }

  #quadratic(control: Point, to: Point): void {
    this.#add({ kind: "quadratic", control, to });
    this.#control = control;
    this.#controlOf = "quadratic";
  }

  #mirrored(kind: "cubic" | "quadratic"): Point {
    if (this.#controlOf !== kind) return this.#at;
    return [2 * this.#at[0] - this.#control[0], 2 * this.#at[1] - this.#control[1]];
  }
}

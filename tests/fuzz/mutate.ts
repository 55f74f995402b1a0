/**
 * Drawings that nobody drew: real ones, damaged on purpose. A drawing is taken from the open sets or the fixtures
 * and changed a few times by what tends to break programs: numbers out of their range, elements copied, moved,
 * wrapped and taken away, pieces of another drawing put in, text cut short. Seeded: one seed, one drawing.
 */
import { readdirSync, readFileSync } from "node:fs";
import { DEFAULT_SETTINGS, type Settings } from "../../core/settings.ts";
import { SETTING_NAMES, SETTINGS_TABLE, settingFromText, settingsWith } from "../../core/settings-schema.ts";
import { drawingNames, PACKAGED_SETS, readDrawing } from "../support/drawing-sets.ts";

export interface FuzzCase {
  readonly name: string;
  readonly text: string;
  readonly settings: Settings;
  /** What was done to it, in order. */
  readonly done: readonly string[];
}

/** Whole numbers and shares from one seed (mulberry32, a public-domain generator by T. Ettinger; from memory). */
export interface Dice {
  share(): number;
  below(count: number): number;
  pick<T>(items: readonly T[]): T;
}

export function diceFrom(seed: number): Dice {
  let state = seed >>> 0;
  const share = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  const below = (count: number): number => Math.floor(share() * count);
  return { share, below, pick: (items) => items[below(items.length)] };
}

const FIXTURES = new URL("../../../fixtures/", import.meta.url);

/** Where the drawings to damage come from; read once. */
function fixtureNames(): string[] {
  const root = fixtureRoot();
  const all = (folder: string) =>
    readdirSync(new URL(folder, root))
      .filter((name) => name.endsWith(".svg"))
      .map((name) => folder + name);
  return [...all(""), ...all("cases/")].sort();
}

/** The built program runs one folder deeper than the sources. */
function fixtureRoot(): URL {
  const near = new URL("../../fixtures/", import.meta.url);
  try {
    readdirSync(near);
    return near;
  } catch {
    return FIXTURES;
  }
}

function anyDrawing(dice: Dice): { name: string; text: string } {
  if (dice.share() < 0.25) {
    const name = dice.pick(fixtureNames());
    return { name, text: readFileSync(new URL(name, fixtureRoot()), "utf8") };
  }
  const set = dice.pick(PACKAGED_SETS);
  return readDrawing(set, dice.pick(drawingNames(set)));
}

const NUMBERS = [
  "0",
  "-0",
  "1e-9",
  "1e-300",
  "-1",
  "0.1",
  "1e6",
  "-1e6",
  "1e15",
  "1e309",
  "NaN",
  "Infinity",
  "0x10",
  "1e",
  "--1",
  "2147483648",
  "99999999999999999999",
  ".",
  "",
  "1.7976931348623157e308",
];

const ATTRIBUTES: readonly (readonly [name: string, values: readonly string[]])[] = [
  ["fill", ["none", "#123456", "red", "url(#nowhere)", "currentColor", "rgb(1e9,0,0)", "inherit", ""]],
  ["stroke", ["none", "#000", "#fed", "context-fill"]],
  ["stroke-width", ["0", "0.01", "3", "80%", "500", "-1", "1e9"]],
  ["stroke-dasharray", ["1", "0.001", "5 0", "0 0", "1 2 3", "none", "1e-7 1e-7"]],
  ["stroke-linejoin", ["miter", "round", "bevel", "arcs"]],
  ["stroke-linecap", ["butt", "round", "square"]],
  [
    "transform",
    [
      "scale(0)",
      "scale(-1 1)",
      "rotate(45)",
      "skewX(89.9)",
      "matrix(1 2 2 4 0 0)",
      "translate(1e9)",
      "scale(1e-6)",
      "rotate(",
      "matrix(0.1 0 0 1e4 0 0)",
    ],
  ],
  ["opacity", ["0", "0.5", "2", "x"]],
  ["display", ["none"]],
  ["visibility", ["hidden"]],
  ["fill-rule", ["evenodd"]],
  ["clip-path", ["url(#nowhere)", "url(#a)"]],
  ["data-tuck-technique", ["fill", "satin", "run", "skip", "knit"]],
  ["data-tuck-angle", ["0", "45", "1e9", "x"]],
  ["data-tuck-spacing", ["0.2", "0.4", "9", "0"]],
  ["data-tuck-length", ["1", "12", "-3"]],
  ["data-tuck-pull", ["0", "2"]],
  ["data-tuck-underlay", ["none", "edge", "zigzag", "x"]],
  ["data-tuck-strand", ["a", "b", ""]],
  ["data-tuck-entry", ["0 0", "10 10", "1e9 0", "x"]],
  ["data-tuck-exit", ["0 0", "30 5"]],
  ["data-tuck-after", ["-", "nowhere"]],
  ["data-tuck-bend", ["nowhere 1 1", "x"]],
  ["id", ["a", "a b", "<", "__proto__", "constructor", "é".repeat(50)]],
  ["style", ["fill:#abc", "fill:url(#x);stroke:red", "{", "fill:", "all:unset;display:none!important"]],
];

type Mutation = (text: string, dice: Dice) => string;

const TAG = /<[a-zA-Z][^<>]*>/g;
const CHILDLESS = /<[a-zA-Z][^<>]*\/>/g;
const NUMBER = /-?(?:\d+\.?\d*|\.\d+)/g;

const matchesOf = (text: string, pattern: RegExp): RegExpExecArray[] =>
  [...text.matchAll(pattern)] as RegExpExecArray[];

/** One match of the pattern, in place of which something else is put; the text as it is where there is none. */
function exchange(text: string, pattern: RegExp, dice: Dice, put: (match: string) => string): string {
  const matches = matchesOf(text, pattern);
  if (matches.length === 0) return text;
  const match = dice.pick(matches);
  return text.slice(0, match.index) + put(match[0]) + text.slice(match.index + match[0].length);
}

const MUTATIONS: Readonly<Record<string, Mutation>> = {
  "odd number": (text, dice) => exchange(text, NUMBER, dice, () => dice.pick(NUMBERS)),
  "number scaled": (text, dice) =>
    exchange(text, NUMBER, dice, (number) =>
      String(Number(number) * dice.pick([-1, 0.001, 0.5, 1.0001, 3, 1000])),
    ),
  "many numbers nudged": (text, dice) =>
    text.replace(/ d="[^"]*"/g, (data) =>
      dice.share() < 0.3
        ? data.replace(NUMBER, (n) =>
            dice.share() < 0.1 ? String(Number(n) + dice.pick([-0.01, 0.01, 1, -1])) : n,
          )
        : data,
    ),
  attribute: (text, dice) => {
    const [name, values] = dice.pick(ATTRIBUTES);
    return exchange(text, TAG, dice, (tag) =>
      tag.replace(/\/?>$/, (end) => ` ${name}="${dice.pick(values)}"${end}`),
    );
  },
  "element away": (text, dice) => exchange(text, CHILDLESS, dice, () => ""),
  "element twice": (text, dice) => exchange(text, CHILDLESS, dice, (tag) => tag + tag),
  "element three dozen times": (text, dice) =>
    exchange(text, CHILDLESS, dice, (tag) =>
      Array.from(
        { length: 36 },
        (_, k) => `<g transform="translate(${k % 6} ${Math.floor(k / 6)})">${tag}</g>`,
      ).join(""),
    ),
  "element wrapped": (text, dice) =>
    exchange(
      text,
      CHILDLESS,
      dice,
      (tag) =>
        `<g transform="${dice.pick(ATTRIBUTES[6][1])}" opacity="${dice.share().toFixed(1)}">${tag}</g>`,
    ),
  "element shuffled": (text, dice) => {
    let moved = "";
    const without = exchange(text, CHILDLESS, dice, (tag) => {
      moved = tag;
      return "";
    });
    return exchange(without, CHILDLESS, dice, (tag) => tag + moved);
  },
  "piece of another drawing": (text, dice) => {
    const others = matchesOf(anyDrawing(dice).text, CHILDLESS);
    return others.length === 0 ? text : exchange(text, CHILDLESS, dice, (tag) => tag + dice.pick(others)[0]);
  },
  "element used again": (text, dice) =>
    exchange(
      text,
      CHILDLESS,
      dice,
      (tag) =>
        `<g id="again">${tag}</g><use href="#again" x="${dice.below(20)}" y="1"/><use href="#again" transform="scale(.5)"/>`,
    ),
  "use of itself": (text, dice) =>
    exchange(text, CHILDLESS, dice, (tag) => `<g id="loop">${tag}<use href="#loop"/></g>`),
  "clipped by another": (text, dice) =>
    exchange(text, CHILDLESS, dice, (tag) => `<clipPath id="a">${tag}</clipPath>`),
  "arc in path": (text, dice) =>
    exchange(
      text,
      / d="[^"]*"/g,
      dice,
      (data) =>
        `${data.slice(0, -1)} A ${dice.pick(NUMBERS.slice(0, 8))} 5 30 ${dice.below(2)} ${dice.below(2)} 9 9"`,
    ),
  "path cut short": (text, dice) =>
    exchange(text, / d="[^"]*"/g, dice, (data) => `${data.slice(0, 4 + dice.below(data.length))}"`),
  viewBox: (text, dice) =>
    text.replace(
      /viewBox="[^"]*"/,
      `viewBox="${dice.pick(["0 0 0 0", "0 0 1e-3 1", "-50 -50 100 1", "1e6 1e6 36 36", "0 0 36", "0 0 1e9 1e9"])}"`,
    ),
  "text cut out": (text, dice) => {
    const at = dice.below(text.length);
    return text.slice(0, at) + text.slice(at + 1 + dice.below(40));
  },
  "text cut short": (text, dice) => text.slice(0, dice.below(text.length)),
  "odd characters": (text, dice) => {
    const at = dice.below(text.length);
    return (
      text.slice(0, at) +
      dice.pick([
        "<",
        ">",
        "&",
        "&amp;",
        '"',
        "\u0000",
        "\ud800",
        "]]>",
        "<!--",
        "<![CDATA[",
        "\u202e",
        "<script>x</script>",
      ]) +
      text.slice(at)
    );
  },
};

/** Most mutations leave the text well-formed; those that break it are tried less often. */
const NAMES = Object.keys(MUTATIONS);
const BREAKING = new Set(["text cut out", "text cut short", "odd characters"]);

export function fuzzCase(seed: number): FuzzCase {
  const dice = diceFrom(seed);
  let { name, text } = anyDrawing(dice);
  const done: string[] = [];
  for (let count = 1 + dice.below(5); count > 0; count--) {
    const mutation = dice.pick(NAMES);
    if (BREAKING.has(mutation) && dice.share() < 0.8) continue;
    text = MUTATIONS[mutation](text, dice);
    done.push(mutation);
  }
  return { name, text, settings: anySettings(dice), done };
}

/** Most drawings at 80 mm as they come; some at odd sizes, some with a few settings anywhere in their ranges. */
function anySettings(dice: Dice): Settings {
  const widthMm = dice.pick([80, 80, 80, 100, 30, 5, null]);
  if (dice.share() < 0.6) return { ...DEFAULT_SETTINGS, widthMm };
  const wished: Record<string, unknown> = { widthMm };
  for (let count = 1 + dice.below(3); count > 0; count--) {
    const name = dice.pick(SETTING_NAMES);
    const info = SETTINGS_TABLE[name];
    if (name === "widthMm") continue;
    if (info.kind === "choice") wished[name] = dice.pick(info.choices);
    else if (info.kind !== "text") {
      const value = dice.pick([info.min, info.max, info.min + dice.share() * (info.max - info.min)]);
      wished[name] = settingFromText(String(info.kind === "integer" ? Math.round(value) : value));
    }
  }
  try {
    return settingsWith(wished);
  } catch {
    return { ...DEFAULT_SETTINGS, widthMm };
  }
}

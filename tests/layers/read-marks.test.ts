/** Marks on the artist's elements, and which of two marks on one thing counts. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { distance } from "../../core/geometry/point.ts";
import type { Point } from "../../core/geometry/types.ts";
import { withMarks } from "../../core/layers/edit-marks.ts";
import { readMarks } from "../../core/layers/read-marks.ts";
import { strip } from "../../core/layers/strip.ts";
import { writeLayers } from "../../core/layers/write.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import type { Plan, PlannedPiece } from "../../core/plan/types.ts";
import { DEFAULT_SETTINGS, type Settings } from "../../core/settings.ts";
import { edited, one } from "../support/dom.ts";
import { read, svg } from "../support/read.ts";

const NAVY = "#1b3a5c";
const square = (id: string, x: number, y: number, attributes = "") =>
  `<rect id="${id}" x="${x}" y="${y}" width="10" height="10" fill="${NAVY}" ${attributes}/>`;
const marksIn = (text: string, settings: Partial<Settings> = {}) => readMarks(text, read(text, settings));

describe("marks on elements", () => {
  it("are pins in the root's user units, whatever transform the element has", () => {
    const text = svg(
      `<g transform="translate(20 0) scale(2)">${square("sail", 0, 0, 'data-tuck-entry="25 4" data-tuck-exit="38,19"')}</g>`,
    );
    expect(marksIn(text, { widthMm: 50 }).marks.pins).toEqual([
      { piece: "sail", point: "entry", at: [12.5, 2], by: "element" },
      { piece: "sail", point: "exit", at: [19, 9.5], by: "element" },
    ]);
  });

  it("pin the fill of an element, or its stroke, or the one that there is", () => {
    const stroked = `stroke="#c8403a" stroke-width="2"`;
    const both = square("flag", 10, 10, `${stroked} data-tuck-entry="12 12" data-tuck-entry-stroke="10 10"`);
    const line = '<path id="oar" d="M40 40h20" fill="none" stroke="#1b3a5c" data-tuck-exit="60 40"/>';
    expect(marksIn(svg(both + line)).marks.pins.map(({ piece, point }) => `${point} ${piece}`)).toEqual(
      ["entry flag", "entry flag.stroke", "exit oar"].map((pin) =>
        pin.replace("exit oar", "exit oar.stroke"),
      ),
    );
  });

  it("pin the nearest of several islands, and of several copies by use", () => {
    const reeds = '<path id="reeds" d="M2 2h6v20h-6z M22 2h6v20h-6z" data-tuck-entry="23 5"/>';
    const used = `<defs>${square("scale", 0, 0, 'data-tuck-exit="71 55"')}</defs><use id="u1" href="#scale" x="40" y="50"/><use id="u2" href="#scale" x="70" y="50"/>`;
    expect(marksIn(svg(reeds + used)).marks.pins.map(({ piece }) => piece)).toEqual(["reeds.2", "u2/scale"]);
  });

  it("are bends and wishes about the order, of groups for all that is in them", () => {
    const text = svg(
      square("water", 60, 60) +
        square("a", 0, 0, 'data-tuck-bend="b 5 15 8 18; the reed 9 9"') +
        square("b", 0, 20, 'data-tuck-after=" - "') +
        `<g id="wing" data-tuck-after="b">${square("c", 20, 0)}${square("d", 20, 20)}</g>`,
    );
    const { marks, findings } = marksIn(text);
    expect(findings).toEqual([]);
    expect(marks.bends).toEqual([
      { from: ["a"], to: "b", through: [[5, 15], [8, 18]], by: "element" }, // biome-ignore format: one a line
      { from: ["a"], to: "the reed", through: [[9, 9]], by: "element" },
    ]);
    expect(marks.after).toEqual([
      { element: "b", pieces: ["b"], after: null },
      { element: "wing", pieces: ["c", "d"], after: "b" },
    ]);
  });

  it("that make no sense are passed over, with a finding each", () => {
    const text = svg(
      square("a", 0, 0, 'data-tuck-entry="5"') +
        square("b", 0, 20, 'data-tuck-exit="5 five"') +
        square("c", 20, 0, 'data-tuck-bend="b 1 2 3"') +
        square("d", 20, 20, 'data-tuck-after=""') +
        square("e", 40, 20, 'data-tuck-exit-stroke="1 2"') +
        square("f", 200, 20, 'data-tuck-entry="1 2"') +
        square("g", 40, 40, 'data-tuck-entry="1e200 2" data-tuck-bend="a 1e9 1"'),
    );
    const { marks, findings } = marksIn(text);
    expect(marks).toEqual({ pins: [], bends: [], after: [] });
    expect(findings.map(({ code, piece }) => [code, piece])).toEqual([
      ["bad-entry", "a"],
      ["bad-exit", "b"],
      ["bad-bend", "c"],
      ["bad-after", "d"],
      ["bad-exit-stroke", "e"],
      ["mark-without-piece", "f"],
      ["bad-entry", "g"],
      ["bad-bend", "g"],
    ]);
  });
});

const TOUCHING = readFileSync(new URL("../../fixtures/cases/touching.svg", import.meta.url), "utf8");

function planned(text: string, settings: Partial<Settings> = {}): { plan: Plan; text: string } {
  const plan = makePlan(text, "case.svg", { ...DEFAULT_SETTINGS, ...settings });
  return { plan, text: writeLayers(text, plan) };
}

const [PIECE] = planned(TOUCHING).plan.pieces;
const pieceIn = ({ plan }: { plan: Plan }) => plan.pieces.find(({ id }) => id === PIECE.id) as PlannedPiece;
const pinnedAt = (text: string, at: string | null) =>
  withMarks(text, [{ element: PIECE.id, name: "data-tuck-entry", value: at }]);
const markerMoved = (text: string, dx: number, dy: number) =>
  edited(text, (document) =>
    one(document, `[data-tuck-point="entry"][data-tuck-piece="${PIECE.id}"]`).setAttribute(
      "transform",
      `translate(${dx} ${dy})`,
    ),
  );
/** Two places inside the piece, in its user units, which are millimetres. */
const [HERE, THERE]: readonly Point[] = [
  [9, 8],
  [11.5, 10],
];

describe("a pin by attribute", () => {
  const once = planned(pinnedAt(TOUCHING, HERE.join(" ")));

  it("is obeyed, drawn as pinned, and planning again changes nothing", () => {
    expect(distance(pieceIn(once).entry, HERE)).toBeLessThan(0.01);
    expect(pieceIn(once)).toMatchObject({ entryPinned: true, exitPinned: false });
    expect(once.text).toContain('data-tuck-pinned="element"');
    expect(planned(once.text)).toEqual(once);
    expect(strip(once.text)).toBe(pinnedAt(TOUCHING, HERE.join(" ")));
  });

  it("is freed when the attribute goes, as undoing it does", () => {
    const undone = pinnedAt(once.text, null);
    expect(strip(undone)).toBe(TOUCHING);
    expect(planned(undone)).toEqual(planned(TOUCHING));
  });

  it("stays where only its marker is deleted", () => {
    const without = edited(once.text, (document) => one(document, "[data-tuck-pinned]").remove());
    expect(pieceIn(planned(without)).entry).toEqual(pieceIn(once).entry);
  });

  it("gives way to its marker moved later, for good; and goes before it again once it is set anew", () => {
    const [dx, dy] = [THERE[0] - pieceIn(once).entry[0], THERE[1] - pieceIn(once).entry[1]];
    const moved = planned(markerMoved(once.text, dx, dy));
    expect(distance(pieceIn(moved).entry, THERE)).toBeLessThan(0.01);
    expect(planned(moved.text)).toEqual(moved);
    const anew = planned(pinnedAt(moved.text, "10 9"));
    expect(distance(pieceIn(anew).entry, [10, 9])).toBeLessThan(0.01);
    expect(planned(anew.text)).toEqual(anew);
  });

  it("goes before a marker that was pinned already", () => {
    const { entry } = pieceIn(planned(TOUCHING));
    const byMarker = planned(markerMoved(planned(TOUCHING).text, THERE[0] - entry[0], THERE[1] - entry[1]));
    expect(distance(pieceIn(byMarker).entry, THERE)).toBeLessThan(0.01);
    const byAttribute = planned(pinnedAt(byMarker.text, HERE.join(" ")));
    expect(pieceIn(byAttribute).entry).toEqual(pieceIn(once).entry);
    const freed = planned(pinnedAt(byAttribute.text, null));
    expect(pieceIn(freed).entryPinned).toBe(false);
  });
});

describe("edits of marks", () => {
  it("touch nothing but the attribute, and can be taken back", () => {
    const text =
      '<?xml version="1.0"?>\r\n<svg:svg xmlns:svg="http://www.w3.org/2000/svg"\n><svg:path d="M0 0h9v9z" /></svg:svg>\n';
    const edit = { element: "path-1", name: "data-tuck-after", value: "a “b” & <c>" } as const;
    const marked = withMarks(text, [edit]);
    expect(marked).toContain(
      '<svg:path d="M0 0h9v9z" data-tuck-after="a &#8220;b&#8221; &#38; &#60;c&#62;" />',
    );
    expect(withMarks(marked, [{ ...edit, value: null }])).toBe(text);
    expect(withMarks(text, [{ ...edit, element: "path-2" }])).toBe(text);
  });

  it("put what holds for the whole drawing on its metadata, which they make where there is none", () => {
    const edit = { element: null, name: "data-tuck-settings", value: "recipe=knit" } as const;
    const root = 'xmlns="http://www.w3.org/2000/svg"';
    expect(withMarks(`<svg ${root}><g/></svg>`, [edit])).toBe(
      `<svg ${root}><metadata data-tuck-settings="recipe=knit"/><g/></svg>`,
    );
    expect(withMarks(`<svg ${root}/>`, [edit])).toBe(
      `<svg ${root}><metadata data-tuck-settings="recipe=knit"/></svg>`,
    );
    const known = `<svg ${root}><g/><metadata id="m"><a/></metadata></svg>`;
    expect(withMarks(known, [edit])).toBe(known.replace('id="m"', 'id="m" data-tuck-settings="recipe=knit"'));
  });
});

/** Markers that the artist moved, by every way an editor has of moving things. */
import { describe, expect, it } from "vitest";
import type { Pin } from "../../core/artwork/types.ts";
import { parseXml } from "../../core/artwork/xml.ts";
import { distance } from "../../core/geometry/point.ts";
import type { Point } from "../../core/geometry/types.ts";
import { readPins } from "../../core/layers/read-pins.ts";
import { writeLayers } from "../../core/layers/write.ts";
import { all, type DomDocument, type DomElement, edited, one, SVG_NAMESPACE } from "../support/dom.ts";
import { scaledToMm, tinyArtwork, tinyPlan } from "../support/tiny-plan.ts";

/** Half a millimetre to the user unit: the plan's (22, 4) stands at (44, 8). */
const UNIT_MM = 0.5;
const USER_TO_MM = scaledToMm(UNIT_MM);

/** Nothing pinned yet. */
const PLAN = tinyPlan({
  userToMm: USER_TO_MM,
  pieces: tinyPlan().pieces.map((piece) => ({ ...piece, entryPinned: false })),
});
const PLANNED = writeLayers(tinyArtwork(UNIT_MM), PLAN);

const pinsAfter = (edit: (document: DomDocument) => void) => readPins(edited(PLANNED, edit), USER_TO_MM);
const marker = (document: DomDocument, piece: string, point: "entry" | "exit"): DomElement =>
  one(document, `[data-tuck-point="${point}"][data-tuck-piece="${piece}"]`);
const pennantEntry = (document: DomDocument) => marker(document, "pennant", "entry");
const rewrite = (element: DomElement, change: (d: string) => string) => {
  for (const path of all(element, "path")) path.setAttribute("d", change(path.getAttribute("d") ?? ""));
};

function expectPin(pins: readonly Pin[], at: Point): void {
  expect(pins.map(({ piece, point }) => [piece, point])).toEqual([["pennant", "entry"]]);
  expect(distance(pins[0].at, at)).toBeLessThan(1e-9);
}

describe("a drawing as it was planned", () => {
  it("has no pins", () => {
    expect(readPins(PLANNED, USER_TO_MM)).toEqual({ pins: [], findings: [] });
    expect(readPins(tinyArtwork(), USER_TO_MM)).toEqual({ pins: [], findings: [] });
  });

  it("may be given as its parsed root", () => {
    expect(readPins(parseXml(PLANNED), USER_TO_MM)).toEqual({ pins: [], findings: [] });
  });

  it("has none after an editor rounded its numbers", () => {
    const { pins } = pinsAfter((document) =>
      rewrite(pennantEntry(document), (d) => d.replace(/^M44 8/, "M44.06 7.95")),
    );
    expect(pins).toEqual([]);
  });

  it("keeps the pins it had, at the very numbers that were planned", () => {
    const pinned = writeLayers(tinyArtwork(UNIT_MM), tinyPlan({ userToMm: USER_TO_MM }));
    const expected = [{ piece: "feather-2", point: "entry", at: [8, 11.6] }];
    expect(readPins(pinned, USER_TO_MM).pins).toEqual(expected);
    const rounded = pinned.replaceAll("M16 23.2", "M16.001 23.199");
    expect(readPins(rounded, USER_TO_MM).pins).toEqual(expected);
  });

  it("frees a pinned point whose marker is deleted", () => {
    const pinned = writeLayers(tinyArtwork(UNIT_MM), tinyPlan({ userToMm: USER_TO_MM }));
    const freed = edited(pinned, (document) => one(document, "[data-tuck-pinned]").remove());
    expect(readPins(freed, USER_TO_MM)).toEqual({ pins: [], findings: [] });
  });
});

describe("a marker moved by a transform", () => {
  // Where each list sends the marker's point (44, 8), in user units: worked by hand from the definitions in
  // SVG 2, chapter 8 (coordinate systems, transformations and units).
  const CASES: readonly (readonly [string, Point])[] = [
    ["translate(10 4)", [54, 12]],
    ["translate(-6)", [38, 8]],
    ["translate(10,4) translate(1 1)", [55, 13]],
    ["scale(2)", [88, 16]],
    ["scale(0.5 3)", [22, 24]],
    ["rotate(90)", [-8, 44]],
    ["rotate(180 40 10)", [36, 12]],
    ["matrix(0 1 -1 0 5 6)", [-3, 50]],
    ["matrix(1,0,0,1,-2.5,1e1)", [41.5, 18]],
    ["skewX(45)", [52, 8]],
    ["skewY(45)", [44, 52]],
    ["translate(100 0) rotate(90) scale(2)", [84, 88]],
  ];

  it.each(CASES)("%s is a pin there", (transform, [x, y]) => {
    const { pins, findings } = pinsAfter((document) =>
      pennantEntry(document).setAttribute("transform", transform),
    );
    expectPin(pins, [x * UNIT_MM, y * UNIT_MM]);
    expect(findings).toEqual([]);
  });

  it("is found through all the groups around it and the path's own transform", () => {
    const { pins } = pinsAfter((document) => {
      const entry = pennantEntry(document);
      const outer = document.createElementNS(SVG_NAMESPACE, "g");
      outer.setAttribute("transform", "translate(1 2)");
      const inner = document.createElementNS(SVG_NAMESPACE, "g");
      inner.setAttribute("transform", "scale(2)");
      document.documentElement.append(outer);
      outer.append(inner);
      inner.append(entry);
      entry.setAttribute("transform", "translate(3 0)");
      for (const path of all(entry, "path")) path.setAttribute("transform", "rotate(90 44 0)");
    });
    // (44, 8) turns to (36, 0), moves to (39, 0), doubles to (78, 0), and ends at (79, 2).
    expectPin(pins, [79 * UNIT_MM, 2 * UNIT_MM]);
  });

  it("pins every marker when the whole layer was moved", () => {
    const { pins } = pinsAfter((document) =>
      one(document, '[data-tuck-role="points"]').setAttribute("transform", "translate(2 0)"),
    );
    expect(pins.length).toBe(8);
    expect(pins[0]).toEqual({ piece: "feather-1", point: "entry", at: [5, 4] });
  });
});

describe("a marker moved by rewriting its path", () => {
  const WRITINGS: Readonly<Record<string, string>> = {
    absolute: "M 50 20 L 48 18",
    "relative, as the first command it means the same": "m50,20 -2,-2 2,2",
    "without needless white space": "M50 20-2-2",
    "in exponent form": "M5e1+2e1",
    "with white space before it": "\n  M\t50\n,20z",
    "with decimals run together": "M50.0.2e2",
  };
  it.each(Object.entries(WRITINGS))("is a pin there: %s", (_, d) => {
    const { pins } = pinsAfter((document) => rewrite(pennantEntry(document), () => d));
    expectPin(pins, [25, 10]);
  });

  it("counts as moved from more than 0.05 mm on", () => {
    const movedBy = (mm: number) =>
      pinsAfter((document) =>
        pennantEntry(document).setAttribute("transform", `translate(${mm / UNIT_MM} 0)`),
      ).pins.length;
    expect(movedBy(0.049)).toBe(0);
    expect(movedBy(0.051)).toBe(1);
  });
});

describe("markers that an editor has been at", () => {
  const copyOf = (document: DomDocument, transform: string) => {
    const entry = pennantEntry(document);
    const copy = entry.cloneNode(true);
    copy.setAttribute("transform", transform);
    entry.parentElement?.append(copy);
  };

  it("lets the last of several moved copies count, and says so", () => {
    const { pins, findings } = pinsAfter((document) => {
      copyOf(document, "translate(10 0)");
      copyOf(document, "translate(20 0)");
    });
    expectPin(pins, [64 * UNIT_MM, 4]);
    expect(findings.map(({ code, piece }) => [code, piece])).toEqual([["marker-doubled", "pennant"]]);
  });

  it("takes a copy left in place for no pin", () => {
    const { pins, findings } = pinsAfter((document) => {
      pennantEntry(document).setAttribute("transform", "translate(10 0)");
      copyOf(document, "");
    });
    expectPin(pins, [54 * UNIT_MM, 4]);
    expect(findings).toEqual([]);
  });

  it("needs none of the other markers", () => {
    const { pins } = pinsAfter((document) => {
      pennantEntry(document).setAttribute("transform", "translate(10 0)");
      for (const each of all(document, "[data-tuck-point]"))
        if (!each.hasAttribute("transform")) each.remove();
    });
    expectPin(pins, [54 * UNIT_MM, 4]);
  });

  const BROKEN: Readonly<Record<string, (entry: DomElement) => void>> = {
    "of an unknown kind": (entry) => entry.setAttribute("data-tuck-point", "middle"),
    "without a piece": (entry) => entry.setAttribute("data-tuck-piece", ""),
    "whose planned place is one number": (entry) => entry.setAttribute("data-tuck-at", "44.8"),
    "whose planned place is no number": (entry) => entry.setAttribute("data-tuck-at", "port bow"),
    "without a path": (entry) => {
      for (const path of all(entry, "path")) path.remove();
    },
    "whose path is empty": (entry) => rewrite(entry, () => ""),
    "whose path does not start with a move": (entry) => rewrite(entry, () => "L50 20"),
    "whose path has one coordinate": (entry) => rewrite(entry, () => "M50"),
    "whose path is not finite": (entry) => rewrite(entry, () => "M1e999 20"),
    "whose transform is in error": (entry) => entry.setAttribute("transform", "translate(1"),
    "whose transform is not finite": (entry) => entry.setAttribute("transform", "scale(1e999)"),
  };
  it.each(Object.entries(BROKEN))("passes over one %s, with a finding", (_, breakIt) => {
    const { pins, findings } = pinsAfter((document) => {
      breakIt(pennantEntry(document));
      marker(document, "feather-1", "exit").setAttribute("transform", "translate(2 0)");
    });
    expect(pins).toEqual([{ piece: "feather-1", point: "exit", at: [5, 11.6] }]);
    expect(findings.map(({ code, severity }) => [code, severity])).toEqual([
      ["marker-unreadable", "warning"],
    ]);
    expect(findings[0].message).toMatch(/on line \d+/);
  });
});

import { describe, expect, test } from "vitest";
import type { Artwork, Piece } from "../../core/artwork/types.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { blocksOf } from "../../core/sequence/blocks.ts";
import { orderPieces } from "../../core/sequence/order-pieces.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { box, NAVY, REED } from "../support/pieces.ts";

const artwork = (...pieces: Piece[]): Artwork => ({
  source: { name: "reeds.svg", sha256: "" },
  size: { widthMm: 100, heightMm: 100 },
  userToMm: [1, 0, 0, 1, 0, 0],
  pieces,
  findings: [],
});

const orderOf = (...pieces: Piece[]) => {
  const { sequence, findings } = orderPieces(artwork(...pieces), DEFAULT_SETTINGS);
  return {
    ids: sequence.pieces.map((piece) => piece.id),
    codes: findings.map((finding) => finding.code),
    sequence,
  };
};

describe("paint order is sewing order", () => {
  test("what is painted later is sewn later", () => {
    expect(orderOf(box("water", 0, 0, 9, 9), box("reed", 1, 1, 2, 8, REED)).ids).toEqual(["water", "reed"]);
  });

  test("a skipped piece is not sewn", () => {
    const guide: Piece = { ...box("guide", 0, 0, 5, 5), technique: "skip" };
    expect(orderOf(guide, box("reed", 1, 1, 2, 8)).ids).toEqual(["reed"]);
  });

  test("consecutive pieces of one thread are one block", () => {
    const pieces = [
      box("a", 0, 0, 1, 1),
      box("b", 2, 0, 1, 1),
      box("c", 4, 0, 1, 1, REED),
      box("d", 6, 0, 1, 1),
    ];
    expect(blocksOf(pieces)).toEqual([
      { colour: NAVY, start: 0, end: 2 },
      { colour: REED, start: 2, end: 3 },
      { colour: NAVY, start: 3, end: 4 },
    ]);
  });
});

describe("a strand group is brought together", () => {
  const strand = { strand: "wing" };

  test("the later member moves back past pieces that it does not overlap", () => {
    const order = orderOf(
      box("feather-1", 0, 0, 5, 5, NAVY, strand),
      box("reed", 20, 0, 5, 5, REED),
      box("feather-2", 4, 0, 5, 5, NAVY, strand),
    );
    expect(order.ids).toEqual(["feather-1", "feather-2", "reed"]);
    expect(order.sequence.blocks).toHaveLength(2);
    expect(order.codes).toEqual([]);
  });

  test("where the later one must stay on top, the earlier one moves on to it", () => {
    const order = orderOf(
      box("feather-1", 0, 0, 5, 5, NAVY, strand),
      box("reed", 7, 0, 5, 5, REED),
      box("feather-2", 4, 0, 5, 5, NAVY, strand),
    );
    expect(order.ids).toEqual(["reed", "feather-1", "feather-2"]);
    expect(order.codes).toEqual([]);
  });

  test("where both overlap what lies between, the drawing wins and a finding says so", () => {
    const order = orderOf(
      box("feather-1", 0, 0, 5, 5, NAVY, strand),
      box("reed", 2, 0, 8, 5, REED),
      box("feather-2", 6, 0, 5, 5, NAVY, strand),
    );
    expect(order.ids).toEqual(["feather-1", "reed", "feather-2"]);
    expect(order.codes).toEqual(["strand-kept-apart"]);
  });

  test("one strand has one thread", () => {
    const order = orderOf(box("reed", 0, 0, 5, 5, REED, strand), box("feather", 4, 0, 5, 5, NAVY, strand));
    expect(order.codes).toEqual(["strand-of-two-colours"]);
  });

  test("of elements with a fill and a stroke, the fills are one and the strokes another", () => {
    const edged = (id: string, x: number) => [
      box(id, x, 0, 5, 5, NAVY, strand),
      { ...box(`${id}.stroke`, x - 0.5, -0.5, 6, 6, REED, strand), element: id, paint: "stroke" as const },
    ];
    const order = orderOf(...edged("feather-1", 0), ...edged("feather-2", 20));
    expect(order.ids).toEqual(["feather-1", "feather-2", "feather-1.stroke", "feather-2.stroke"]);
    expect(order.codes).toEqual([]);
  });

  test("another piece of its colour that lies elsewhere is not drawn into it", () => {
    const order = orderOf(
      box("feather-1", 0, 0, 5, 5, NAVY, strand),
      box("oar", 40, 0, 5, 5, NAVY),
      box("feather-2", 8, 0, 5, 5, NAVY, strand),
    );
    expect(order.ids).toEqual(["feather-1", "feather-2", "oar"]);
  });
});

describe("a strand group in a plan", () => {
  const square = (id: string, x: number, more = "") =>
    `<rect id="${id}" x="${x}" y="2" width="8" height="8" fill="#1b3a5c" ${more}/>`;
  const wing = 'data-tuck-strand="wing"';
  const drawing = `<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="12mm" viewBox="0 0 80 12">${square("feather-1", 2, wing)}${square("oar", 60)}${square("feather-2", 30, wing)}</svg>`;

  test.each(["paint", "regroup"] as const)("is one strand, and what shows is said: %s", (order) => {
    const { pieces, metrics, findings, connectors } = makePlan(drawing, "wing.svg", {
      ...DEFAULT_SETTINGS,
      order,
    });
    const at = pieces.findIndex(({ id }) => id.startsWith("feather"));
    expect(pieces[at + 1].id).toMatch(/^feather/);
    expect(connectors.find(({ from }) => from === pieces[at].id)).toMatchObject({
      kind: "hop",
      exposedMm: expect.closeTo(20, 1),
    });
    expect(metrics.strands).toBe(2);
    expect(metrics.strandsLowerBound).toBeLessThanOrEqual(2);
    expect(findings.map(({ code }) => code)).toContain("strand-exposed");
  });
});

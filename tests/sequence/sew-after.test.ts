/** Wishes about the order, and the moves that lead to them. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Artwork, OrderWish, Piece } from "../../core/artwork/types.ts";
import { legalMoves } from "../../core/sequence/legal-moves.ts";
import { orderAsWished } from "../../core/sequence/order-as-wished.ts";
import { isLegal, precedenceOf } from "../../core/sequence/precedence.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { box, CREAM, NAVY, REED } from "../support/pieces.ts";

const artwork = (pieces: readonly Piece[]): Artwork => ({
  source: { name: "reeds.svg", sha256: "0".repeat(64) },
  size: { widthMm: 100, heightMm: 20 },
  userToMm: [1, 0, 0, 1, 0, 0],
  pieces,
  findings: [],
});

const wish = (element: string, after: string | null, pieces = [element]): OrderWish => ({
  element,
  pieces,
  after,
});

/** Reeds in a row, none over another. */
const reeds = ["a", "b", "c", "d", "e"].map((id, k) => box(id, 20 * k, 0, 6, 6, k % 2 ? NAVY : REED));

const ordered = (
  pieces: readonly Piece[],
  wishes: readonly OrderWish[],
  order: "paint" | "regroup" = "paint",
) => {
  const { sequence, findings } = orderAsWished(artwork(pieces), { ...DEFAULT_SETTINGS, order }, wishes);
  return { ids: sequence.pieces.map(({ id }) => id).join(" "), findings, sequence };
};

describe("a wish about the order", () => {
  test("sews a piece right after the one it names, all others as they were", () => {
    expect(ordered(reeds, [wish("d", "a")]).ids).toBe("a d b c e");
    expect(ordered(reeds, [wish("b", "e")]).ids).toBe("a c d e b");
    expect(ordered(reeds, [wish("d", null)]).ids).toBe("d a b c e");
  });

  test("takes along what is to follow; several that follow one piece stand in document order", () => {
    expect(ordered(reeds, [wish("b", "d"), wish("e", "b")]).ids).toBe("a c d b e");
    expect(ordered(reeds, [wish("b", "e"), wish("c", "e")]).ids).toBe("a d e b c");
  });

  test("moves all pieces of an element, each island and the stroke", () => {
    const wing = ["wing", "wing.2", "wing.stroke"];
    const pieces = [...wing.map((id, k) => ({ ...box(id, 10 * k, 40, 4, 4), element: "wing" })), ...reeds];
    expect(ordered(pieces, [wish("wing", "b", wing)]).ids).toBe("a b wing wing.2 wing.stroke c d e");
  });

  test("is carried out on the order that was found by regrouping", () => {
    const base = ordered(reeds, [], "regroup");
    expect(base.sequence.blocks).toHaveLength(2);
    const others = base.ids.split(" ");
    const last = others.pop() as string;
    const { ids, findings } = ordered(reeds, [wish(last, null)], "regroup");
    expect(ids).toBe([last, ...others].join(" "));
    expect(findings).toEqual([]);
  });

  test("against what lies on top is passed over, and says which pair forbids it and what is legal", () => {
    const pond = [box("water", 0, 0, 20, 10, NAVY), box("hull", 8, 2, 8, 6, CREAM), box("oar", 40, 0, 4, 4)];
    const { ids, findings } = ordered(pond, [wish("water", "oar")]);
    expect(ids).toBe("water hull oar");
    expect(findings).toMatchObject([{ code: "order-hides", severity: "warning", piece: "water" }]);
    expect(findings[0].message).toContain("hull lies on water");
    expect(findings[0].remedy).toContain("before hull");
    expect(ordered(pond, [wish("oar", "water")])).toMatchObject({ ids: "water oar hull", findings: [] });
  });

  test("holds where it is legal only together with another", () => {
    const pond = [box("water", 0, 0, 20, 10, NAVY), box("hull", 8, 2, 8, 6, CREAM), box("oar", 40, 0, 4, 4)];
    expect(ordered(pond, [wish("water", "oar"), wish("hull", "water")])).toMatchObject({
      ids: "oar water hull",
      findings: [],
    });
  });

  test("goes by itself where the one it depends on cannot be kept", () => {
    const pond = [
      box("water", 0, 0, 20, 10, NAVY),
      box("hull", 8, 2, 8, 6, CREAM),
      box("oar", 40, 0, 4, 4),
      box("reed", 60, 0, 4, 4),
    ];
    const { ids, findings } = ordered(pond, [wish("water", "oar"), wish("reed", "water")]);
    expect(ids).toBe("water reed hull oar");
    expect(findings.map(({ code }) => code)).toEqual(["order-hides"]);
  });

  test("in a circle, or after a piece that is not sewn, is passed over", () => {
    const circle = ordered(reeds, [wish("b", "d"), wish("d", "b")]);
    expect(circle.ids).toBe("a c d b e");
    expect(circle.findings.map(({ code, piece }) => [code, piece])).toEqual([["order-circular", "d"]]);
    const nowhere = ordered(reeds, [wish("b", "swan")]);
    expect(nowhere.ids).toBe("a b c d e");
    expect(nowhere.findings.map(({ code }) => code)).toEqual(["order-without-piece"]);
  });
});

describe("moves", () => {
  const pond = [
    box("water", 0, 0, 20, 10, NAVY),
    box("hull", 8, 2, 8, 6, CREAM),
    box("oar", 40, 0, 4, 4),
    box("flag", 10, 3, 3, 3, REED),
  ];

  test("are judged without planning: what forbids them, between which pieces they may go, what is nearest", () => {
    const moves = legalMoves(artwork(pond), [], DEFAULT_SETTINGS);
    expect(moves.order).toEqual(["water", "hull", "oar", "flag"]);
    expect(moves.judge(["hull"], "flag")).toMatchObject({
      isLegal: false,
      wrong: [{ before: "hull", after: "flag" }],
      notBefore: "water",
      notAfter: "flag",
      nearest: { after: "oar" },
      edits: [],
    });
    expect(moves.judge(["hull"], null)).toMatchObject({ isLegal: false, nearest: { after: "water" } });
    expect(moves.judge(["oar"], null)).toMatchObject({
      isLegal: true,
      notBefore: null,
      notAfter: null,
      nearest: { after: null },
      order: ["oar", "water", "hull", "flag"],
      edits: [{ element: "oar", name: "data-tuck-after", value: "-" }],
    });
  });

  test("back to where a piece was take its wish away again", () => {
    const moved = [wish("oar", null)];
    const back = legalMoves(artwork(pond), moved, DEFAULT_SETTINGS).judge(["oar"], "hull");
    expect(back.edits).toEqual([{ element: "oar", name: "data-tuck-after", value: null }]);
  });

  test("leave behind what followed the piece: only what is dragged moves", () => {
    const judged = legalMoves(artwork(reeds), [wish("b", "d"), wish("e", "b")], DEFAULT_SETTINGS);
    expect(judged.order.join(" ")).toBe("a c d b e");
    expect(judged.judge(["b"], null).order.join(" ")).toBe("b a c d e");
  });

  test("any number of them: the wishes lead to just the order that was promised, which is always legal", () => {
    const place = fc.record({ x: fc.integer({ min: 0, max: 30 }), y: fc.integer({ min: 0, max: 30 }) });
    const drags = fc.array(fc.tuple(fc.nat(6), fc.integer({ min: -1, max: 6 })), { maxLength: 8 });
    fc.assert(
      fc.property(fc.array(place, { minLength: 2, maxLength: 7 }), drags, (places, moved) => {
        const pieces = places.map(({ x, y }, k) => ({
          ...box(`p${k}`, x, y, 8, 8, [NAVY, REED, CREAM][k % 3]),
          // Two islands of one element among them.
          ...(k === 3 ? { element: "p1", id: "p1.2" } : {}),
        }));
        const precedence = precedenceOf(pieces, DEFAULT_SETTINGS.pullMm);
        let wishes: readonly OrderWish[] = [];
        for (const [which, target] of moved) {
          const moves = legalMoves(artwork(pieces), wishes, DEFAULT_SETTINGS);
          const after = target < 0 ? null : pieces[target % pieces.length].id;
          const verdict = moves.judge([pieces[which % pieces.length].id], after);
          expect(verdict.isLegal).toBe(verdict.wrong.length === 0);
          if (!verdict.isLegal) {
            if (verdict.nearest === null) continue;
            const nearest = moves.judge([pieces[which % pieces.length].id], verdict.nearest.after);
            expect(nearest.isLegal).toBe(true);
            continue;
          }
          wishes = verdict.wishes;
          const { ids, findings, sequence } = ordered(pieces, wishes);
          expect(ids).toBe(verdict.order.join(" "));
          expect(findings).toEqual([]);
          const numbers = sequence.pieces.map((piece) => pieces.findIndex(({ id }) => id === piece.id));
          expect(isLegal(numbers, precedence)).toBe(true);
        }
      }),
      { numRuns: 60, seed: 6 },
    );
  });
});

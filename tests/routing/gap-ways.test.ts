/** Ways over gaps among many pieces: the same as Dijkstra's over all pairs of them, which takes the square of them. */
import { expect, test } from "vitest";
import { regionBox } from "../../core/geometry/region.ts";
import type { Region } from "../../core/geometry/types.ts";
import type { Body } from "../../core/routing/body.ts";
import { gapWaysAmong } from "../../core/routing/gap-ways.ts";
import { leastGaps } from "../../core/routing/least-gaps.ts";
import { type Random, seededRandom } from "../support/random-region.ts";

function blade(x: number, y: number, width: number, height: number): Body {
  const outer: Region[number]["outer"] = [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ];
  const region = [{ outer, holes: [] }];
  return { kind: "area", region, box: regionBox(region) };
}

/** On a coarse grid many gaps are equally wide, and some blades meet. */
const scattered = (random: Random, count: number): Body[] =>
  Array.from({ length: count }, () => {
    const [x, y, width, height] = [12, 12, 3, 3].map((most) => Math.ceil(random() * most));
    return blade(x * 2, y * 2, width, height);
  });

test.each([2, 3, 10, 30])("among %i blades the way is the same, gap by gap", (count) => {
  for (let seed = 1; seed <= 60; seed++) {
    const bodies = scattered(seededRandom(seed), count);
    // The first is left, the second is reached: in the list for Dijkstra the last one is.
    const [from, to, ...between] = bodies;
    const plain = leastGaps([from, ...between, to], 30);
    const numbered =
      plain?.map(({ node, gap }) => ({ node: node === count - 1 ? 1 : node + 1, gap })) ?? null;
    const way = gapWaysAmong(bodies)({ from: 0, to: 1, mayCross: (k) => k > 1, after: 2 }, 30);
    expect(way).toEqual(numbered);
  }
});

test("in a field of ten thousand dots no more is looked at than lies near", () => {
  const bodies = Array.from({ length: 10_000 }, (_, k) =>
    blade((k % 100) * 4, Math.floor(k / 100) * 4, 2, 2),
  );
  const ways = gapWaysAmong(bodies);
  let asked = 0;
  const way = (from: number, to: number) =>
    ways({ from, to, mayCross: (k) => ++asked > 0 && k > to, after: to + 1 }, 1000);
  // From the end of a row to the beginning of the next: so many dots lead there that a way over few of them is told.
  expect(way(99, 100)?.length).toBeLessThan(20);
  expect(way(9_000, 9_001)?.map(({ gap }) => gap.distance)).toEqual([2]);
  expect(asked).toBeLessThan(5_000);
});

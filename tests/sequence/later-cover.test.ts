/** Where many pieces lie over one another, runs of them are joined once: what they hide stays the same. */
import { expect, test } from "vitest";
import { intersect, regionArea, subtract, union } from "../../core/geometry/region.ts";
import type { Region, Ring } from "../../core/geometry/types.ts";
import { laterCover } from "../../core/sequence/later-cover.ts";
import { box } from "../support/pieces.ts";
import { randomRegion, seededRandom } from "../support/random-region.ts";

const EVERYWHERE = { minX: -100, minY: -100, maxX: 100, maxY: 100 };
const same = (a: Region, b: Region): number => regionArea(subtract(a, b)) + regionArea(subtract(b, a));

test("a hundred blobs over a piece, some left out and some alike", () => {
  const random = seededRandom(5);
  const blobs = Array.from({ length: 100 }, () => randomRegion(random, { blobs: 1, cuts: 1 }));
  const areas = blobs.map((blob, k) => (k % 17 === 3 ? null : k % 23 === 5 ? blobs[k - 1] : blob));
  const cover = laterCover(areas);
  for (const k of [-1, 0, 7, 30]) {
    const members = cover.after(k, EVERYWHERE);
    const asked = areas.filter((area, j) => j > k && area !== null) as Region[];
    const whole = union(asked);
    expect(members.length).toBeGreaterThan(60);
    expect(same(cover.union(members, EVERYWHERE), whole)).toBeLessThan(0.01);
    // Those that lie in a part of it only: of no run are all there.
    const some = members.filter((_, n) => n % 10 !== 0);
    const left = union(some.map((j) => areas[j] as Region));
    expect(same(cover.union(some, EVERYWHERE), left)).toBeLessThan(0.01);
  }
});

test("a hundred blobs, asked near some of them: runs count as a whole where no other comes near", () => {
  const random = seededRandom(9);
  const blobs = Array.from({ length: 100 }, (_, k) =>
    randomRegion(random, { blobs: 1, cuts: 1 }).map(({ outer, holes }) => {
      const away = (ring: Ring): Ring => ring.map(([x, y]) => [x + (k % 8 === 0 ? 300 : 0), y]);
      return { outer: away(outer), holes: holes.map(away) };
    }),
  );
  const cover = laterCover(blobs);
  const frame = { minX: -20, minY: -20, maxX: 20, maxY: 20 };
  const members = cover.after(10, frame);
  expect(members.length).toBeGreaterThan(64);
  const inFrame = (region: Region) => intersect(region, box("frame", -20, -20, 40, 40).region);
  const expected = inFrame(union(members.map((j) => blobs[j])));
  expect(same(inFrame(cover.union(members, frame)), expected)).toBeLessThan(0.01);
});

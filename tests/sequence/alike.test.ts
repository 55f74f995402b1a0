import { expect, test } from "vitest";
import type { Polygon, Region } from "../../core/geometry/types.ts";
import { lastAlike } from "../../core/sequence/alike.ts";

const blade = (x: number, width = 4): Region => [
  {
    outer: [
      [x, 0],
      [x + width, 0],
      [x + width, 9],
      [x, 9],
    ],
    holes: [],
  },
];
const pierced = (y: number): Region =>
  blade(0).map(
    (one): Polygon => ({
      ...one,
      holes: [
        [
          [1, y],
          [2, y + 1],
          [2, y],
        ],
      ],
    }),
  );

test("the last of the very same areas, and of each other one itself", () => {
  const areas = [
    blade(0),
    null,
    blade(1),
    blade(0),
    [],
    pierced(2),
    blade(0, 5),
    blade(0),
    pierced(3),
    pierced(2),
    null,
  ];
  expect(lastAlike(areas)).toEqual([7, 1, 2, 7, 4, 9, 6, 7, 8, 9, 10]);
});

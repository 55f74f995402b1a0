/** Filled shapes of the crest and of its lettering, in a drawing of 60 by 60 mm. */

const star = (points: number, outer: number, inner: number): string =>
  `M${Array.from({ length: 2 * points }, (_, k) => {
    const r = k % 2 === 0 ? outer : inner;
    const a = (Math.PI * k) / points - Math.PI / 2;
    return `${(30 + r * Math.cos(a)).toFixed(3)},${(30 + r * Math.sin(a)).toFixed(3)}`;
  }).join("L")}Z`;

export const SHAPES = {
  "leaf with a stem": "M30 2C44 14 44 30 31.2 40L31.2 58L28.8 58L28.8 40C16 30 16 14 30 2Z",
  "letter A": "M25 5h6L48 50h-6.5l-4.6-13H19.3l-4.6 13H8zM28 12L21.4 31h13.4z",
  "letter B":
    "M10 5h18c9 0 14 4 14 11c0 5-3 8-7 9.5c6 1.2 10 5 10 11.5c0 8-6 13-15 13H10zM16 10v13h11c6 0 9-2 9-6.5c0-4.5-3-6.5-9-6.5zM16 28v17h13c6.5 0 10-3 10-8.5c0-5.5-3.5-8.5-10-8.5z",
  "letter S":
    "M44 14C40 8 34 6 28 6C19 6 14 11 14 18C14 25 19 28 28 30C37 32 40 34 40 39C40 44 36 48 28 48C22 48 18 45 16 40L11 43C14 50 20 53 28 53C39 53 45 47 45 39C45 31 39 28 30 26C22 24 19 22 19 18C19 14 22 11 28 11C33 11 37 13 39.5 17.5Z",
  "letter R":
    "M10 5h18c10 0 15 5 15 13c0 7-4 11-10 12.5L45 52h-7L26.5 31.5H16V52h-6zM16 10.5v15.5h11c6.5 0 10-2.5 10-8c0-5-3.500-7.500-10-7.500z",
  "star with long points": star(5, 28, 7),
  "compass star": star(8, 28, 9),
  "small star": star(5, 9, 3.6),
  "heron feather": "M5 55C8 38 20 14 52 4C46 22 36 34 22 42C17 46 12 50 7 56Z",
  "reed leaf": "M28 58C26 40 30 20 40 3C36 22 33 40 32 58Z",
  "life ring": "M30 8a22 22 0 1 1-.01 0zM30 13a17 17 0 1 0 .01 0z",
  pennant: "M5 30L55 26V34Z",
  "boat rack": "M4 10h52v5h-3v30h-4v-30h-6v30h-4v-30h-6v30h-4v-30h-6v30h-4v-30h-6v30h-4v-30h-5z",
  "heron eye": "M30 27.5a2.5 2.5 0 1 1-.01 0z",
  pebble: "M21 30a9 3 0 1 1 18 0a9 3 0 1 1-18 0z",
  "bow line": "M5 30Q30 20 55 30L55 30.700Q30 20.700 5 30.700Z",
  mooring: "M8 8H52V13H33V54H27V13H8Z",
  "boat house corner": "M10 6H15V48H50V53H10Z",
  "forked post": "M27.5 54V32L10 10L14 7L30 27L46 7L50 10L32.5 32V54Z",
  oar: "M29 3h2.5V36C35 38 35.5 42 35.5 46V57H25V46C25 42 25.5 38 29 36Z",
  "oar with a shouldered blade":
    "M49 1.5a1.2 1.2 0 0 0-1.7 0l-22.3 22.3c-6.2 6.2-7.5 1.7-14 8.2l-9 9a1.4 1.4 0 0 0 0 2l2.8 2.8 2.7 2.7c.6.6 1.5.6 2 0l9-9c6.5-6.5 2-7.8 8.2-14l22.3-22.3a1.2 1.2 0 0 0 0-1.7z",
  "crossed oars": "M10 6L30 26L50 6L54 10L34 30L54 50L50 54L30 34L10 54L6 50L26 30L6 10Z",
  trident: "M28 56V30H12V8H17V26H28V4H32V26H43V8H48V30H32V56Z",
  "new moon": "M40 6A26 26 0 1 0 40 54A20 20 0 1 1 40 6Z",
} as const;

export type ShapeName = keyof typeof SHAPES;

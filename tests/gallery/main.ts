/**
 * `npm run gallery`: pictures to look at. For 24 emoji, 100 mm wide, and every fixture at its own size: the drawing
 * beside its sew-out, eight pairs a contact sheet, and a page of all of them in out/gallery.
 *
 *     npm run gallery                      with the default settings
 *     npm run gallery -- --technique auto  with another setting for the technique
 */
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { pictureSvg } from "../../core/output/picture.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { paintSewOut } from "../../core/plan/sew-out.ts";
import { measureLikeness } from "../../core/plan/sew-out-measures.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { settingsWith } from "../../core/settings-schema.ts";
import { type Drawing, readDrawing, spreadNames } from "../support/drawing-sets.ts";
import { drawnLike } from "../support/drawn.ts";
import { svgToPng } from "../support/png.ts";

const FOLDER = "out/gallery";
const EMOJI = 24;
const EMOJI_MM = 100;
const PAIRS_A_SHEET = 8;
const CELL_PX = 420;

interface Shown {
  readonly name: string;
  readonly caption: string;
  readonly drawn: Uint8Array;
  readonly sewn: Uint8Array;
}

const { values } = parseArgs({
  options: { technique: { type: "string", default: DEFAULT_SETTINGS.technique } },
});

const fixtures = ["fixtures", "fixtures/cases"].flatMap((folder) =>
  readdirSync(folder)
    .filter((name) => name.endsWith(".svg"))
    .sort()
    .map((name): Drawing => ({ name, text: readFileSync(`${folder}/${name}`, "utf8") })),
);
const emoji = spreadNames("emoji", EMOJI).map((name) => readDrawing("emoji", name));

mkdirSync(FOLDER, { recursive: true });
const groups = [
  { title: "fixtures", shown: fixtures.map((drawing) => shown(drawing, null)) },
  { title: "emoji", shown: emoji.map((drawing) => shown(drawing, EMOJI_MM)) },
];
for (const { title, shown } of groups) {
  for (let first = 0; first < shown.length; first += PAIRS_A_SHEET) {
    const sheet = contactSheet(shown.slice(first, first + PAIRS_A_SHEET));
    writeFileSync(`${FOLDER}/${title}-${first / PAIRS_A_SHEET + 1}.png`, svgToPng(sheet, 4 * CELL_PX));
  }
  for (const { name, drawn, sewn } of shown) {
    writeFileSync(`${FOLDER}/${name}-drawn.png`, drawn);
    writeFileSync(`${FOLDER}/${name}-sewn.png`, sewn);
  }
}
writeFileSync(`${FOLDER}/index.html`, page());
console.log(`${FOLDER}/index.html: ${fixtures.length} fixtures, ${emoji.length} emoji`);

function shown({ name, text }: Drawing, widthMm: number | null): Shown {
  const settings = settingsWith({ widthMm, technique: values.technique });
  const plan = makePlan(text, name, settings);
  const sewOut = paintSewOut(plan.sewing, plan.size);
  const { ownColourMm2, insideMm2 } = measureLikeness(plan, sewOut, drawnLike(text, sewOut));
  const { stitches, strands } = plan.metrics;
  const own = insideMm2 === 0 ? 100 : (100 * ownColourMm2) / insideMm2;
  return {
    name: name.replace(/\.svg$/, ""),
    caption: `${name}: ${plan.size.widthMm.toFixed(0)} mm, ${stitches} stitches, ${strands} strands, ${own.toFixed(1)} % own colour`,
    drawn: svgToPng(text, 2 * CELL_PX),
    sewn: svgToPng(pictureSvg(plan, {}), 2 * CELL_PX),
  };
}

/** Two pairs in a row: the drawing, and to its right what is sewn. */
function contactSheet(pairs: readonly Shown[]): string {
  const rows = Math.ceil(pairs.length / 2);
  const cell = (png: Uint8Array, column: number, row: number) =>
    `<image x="${column * CELL_PX}" y="${row * CELL_PX}" width="${CELL_PX - 8}" height="${CELL_PX - 8}" href="data:image/png;base64,${Buffer.from(png).toString("base64")}"/>`;
  const cells = pairs.map(({ drawn, sewn }, k) => {
    const [column, row] = [2 * (k % 2), Math.floor(k / 2)];
    return cell(drawn, column, row) + cell(sewn, column + 1, row);
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${4 * CELL_PX} ${rows * CELL_PX}"><rect width="100%" height="100%" fill="#fff"/>${cells.join("")}</svg>`;
}

function page(): string {
  const figure = ({ name, caption }: Shown) =>
    `<figure><img src="${name}-drawn.png" alt="${name}, drawn"><img src="${name}-sewn.png" alt="${name}, sewn"><figcaption>${caption}</figcaption></figure>`;
  const sections = groups.map(({ title, shown }) => `<h2>${title}</h2>\n${shown.map(figure).join("\n")}`);
  return `<!doctype html>
<html lang="en">
<meta charset="utf-8">
<title>Tuckline: drawings and sew-outs</title>
<style>
  body { font: 16px/1.4 system-ui, sans-serif; margin: 2rem; background: #fff; color: #222 }
  figure { display: inline-block; margin: 0 1.5rem 2rem 0 }
  img { width: 420px; max-width: 45vw; vertical-align: top }
</style>
<h1>Drawings and sew-outs</h1>
<p>Technique: ${values.technique}. Drawing on the left, sew-out on the right.</p>
${sections.join("\n")}
</html>
`;
}

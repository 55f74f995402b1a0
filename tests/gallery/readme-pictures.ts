/** `npm run pictures`: draws the pictures of the README anew, from the demo crest. */
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { writeLayers } from "../../core/layers/write.ts";
import { pictureSvg } from "../../core/output/picture.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { svgToPng } from "../support/png.ts";

const WIDTH_PX = 560;
const NAME = "heron-crest";

const drawing = readFileSync(`fixtures/${NAME}.svg`, "utf8");
const plan = makePlan(drawing, `${NAME}.svg`, DEFAULT_SETTINGS);
const pictures = {
  drawn: drawing,
  planned: writeLayers(drawing, plan),
  sewn: pictureSvg(plan, {}),
};
mkdirSync("fixtures/pictures", { recursive: true });
for (const [state, svg] of Object.entries(pictures)) {
  writeFileSync(`fixtures/pictures/${NAME}-${state}.png`, svgToPng(svg, WIDTH_PX));
}

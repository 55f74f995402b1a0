/** Every file that a plan can be taken away as: its name, its media type, its content. */
import { strip } from "../../core/layers/strip.ts";
import { writeLayers } from "../../core/layers/write.ts";
import { pictureSvg } from "../../core/output/picture.ts";
import { WRITERS } from "../../core/output/writers.ts";
import type { Plan } from "../../core/plan/types.ts";
import type { OutputFile, OutputName, PlanJob } from "./protocol.ts";

const TYPES: { readonly [ending: string]: string } = {
  json: "application/json",
  dst: "application/octet-stream",
  csv: "text/csv;charset=utf-8",
  html: "text/html;charset=utf-8",
  svg: "image/svg+xml;charset=utf-8",
};

export function writeOutput(
  name: OutputName,
  plan: Plan,
  { svgText, name: drawingName }: PlanJob,
): OutputFile {
  const stem = drawingName.replace(/\.svgz?$/i, "");
  const svg = (suffix: string, content: string): OutputFile => ({
    fileName: `${stem}${suffix}.svg`,
    type: TYPES.svg,
    content,
  });
  switch (name) {
    case "picture":
      return svg(".sewn", pictureSvg(plan));
    case "planned":
      return svg(".planned", writeLayers(svgText, plan));
    case "artwork":
      return svg("", strip(svgText));
    default: {
      const writer = WRITERS.find((one) => one.name === name);
      if (writer === undefined) throw new RangeError(`no output is called ${name}`);
      return {
        fileName: `${stem}.${writer.ending}`,
        type: TYPES[writer.ending] ?? "application/octet-stream",
        content: writer.write(plan, {}),
      };
    }
  }
}

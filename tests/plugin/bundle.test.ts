/** What `npm run build` puts into build/plugin: how large it is, and that the planner in it is the planner. */
import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { serialisePlan } from "../../core/output/json.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import type { AskMessage, FromWorker, OutputFile, PlanJob } from "../../plugin/worker/protocol.ts";
import { fixture, PATIENCE_MS, Shared } from "./host-page.ts";

const BUILT = fileURLToPath(new URL("../../build/plugin/", import.meta.url));

const shared = new Shared().use(["fixtures/cases/two-colours.svg"]);

describe("the bundle", { timeout: PATIENCE_MS }, () => {
  it("is sent in less than 250 kB in all", () => {
    const sizes = readdirSync(BUILT)
      .filter((name) => name.endsWith(".js.br"))
      .map((name) => readFileSync(BUILT + name).length);
    expect(sizes.length).toBeGreaterThanOrEqual(3);
    expect(sizes.reduce((sum, size) => sum + size, 0)).toBeLessThan(250_000);
  });

  // Style sheets, colours, clipping: where the bundle leaves parts of libraries out.
  it.each(["every-feature.svg", "cases/eye-in-wing.svg"])(
    "plans %s to the very bytes of the command line",
    async (name) => {
      const drawing: PlanJob = { svgText: fixture(name), name, given: {} };
      const planned = await shared.editor.page.evaluate(
        (drawing) =>
          new Promise<string>((resolve, reject) => {
            const worker = new Worker("/plugin/worker.js", { type: "module" });
            const ask = (message: AskMessage): void => worker.postMessage(message);
            worker.onerror = ({ message }) => reject(new Error(message));
            worker.onmessage = ({ data }: MessageEvent<FromWorker>) => {
              if (data.kind === "failed") reject(new Error(data.problem.message));
              if (data.kind !== "done") return;
              if (data.job === 1) return ask({ kind: "output", name: "json", drawing, job: 2 });
              const { content } = data.answer as OutputFile;
              resolve(typeof content === "string" ? content : new TextDecoder().decode(content));
              worker.terminate();
            };
            worker.postMessage({ kind: "hello", cancelled: null });
            ask({ kind: "plan", drawing, job: 1 });
          }),
        drawing,
      );
      expect(planned).toBe(serialisePlan(makePlan(drawing.svgText, name, DEFAULT_SETTINGS)));
    },
  );
});

/**
 * `npm run fuzz -- [--minutes 5] [--seed 1]`: damages real drawings (`mutate.ts`) and judges what comes of each
 * (`judge.ts`). What is found is written to out/fuzz: the drawing, and beside it the seed, the settings and the
 * fault. `--only SEED` tries one seed again;
 * `--limit 60` is the time in seconds that no drawing may exceed.
 */
import { mkdirSync, writeFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { Worker } from "node:worker_threads";
import type { Verdict } from "./judge.ts";
import { fuzzCase } from "./mutate.ts";

const HEAP_MB = 3000;
const FOLDER = "out/fuzz";

const { values } = parseArgs({
  options: {
    minutes: { type: "string", default: "5" },
    seed: { type: "string", default: "1" },
    only: { type: "string" },
    limit: { type: "string", default: "60" },
  },
});
/** No drawing may take longer. */
const LIMIT_MS = Number(values.limit) * 1000;

/** A worker, and a way to have one seed judged within the limit. */
class Judge {
  #worker: Worker | null = null;

  judge(seed: number): Promise<Verdict> {
    this.#worker ??= new Worker(new URL("./worker.js", import.meta.url), {
      resourceLimits: { maxOldGenerationSizeMb: HEAP_MB },
    });
    const worker = this.#worker;
    return new Promise((resolve) => {
      const finish = (verdict: Verdict, isDead: boolean): void => {
        clearTimeout(timer);
        worker.off("message", onVerdict).off("error", onError).off("exit", onExit);
        if (isDead) {
          this.#worker = null;
          worker.terminate();
        }
        resolve(verdict);
      };
      const fail = (what: string): void => finish({ kind: "fault", faults: [what], ms: LIMIT_MS }, true);
      const onVerdict = (verdict: Verdict): void => finish(verdict, false);
      const onError = (error: Error): void => fail(`the worker died: ${error.message}`);
      const onExit = (code: number): void => fail(`the worker ended with ${code}`);
      const timer = setTimeout(() => fail(`not done after ${LIMIT_MS / 1000} s`), LIMIT_MS);
      worker.on("message", onVerdict).on("error", onError).on("exit", onExit);
      worker.postMessage(seed);
    });
  }

  async end(): Promise<void> {
    await this.#worker?.terminate();
  }
}

function keep(seed: number, verdict: Verdict): void {
  const { name, text, settings, done } = fuzzCase(seed);
  mkdirSync(FOLDER, { recursive: true });
  writeFileSync(`${FOLDER}/${seed}.svg`, text);
  writeFileSync(`${FOLDER}/${seed}.json`, JSON.stringify({ seed, name, done, verdict, settings }, null, 2));
  console.log(
    `seed ${seed} (${name}; ${done.join(", ")}): ${verdict.faults[0].split("\n").slice(0, 3).join(" | ")}`,
  );
}

const judges = new Judge();
const first = Number(values.only ?? values.seed);
const end = performance.now() + Number(values.minutes) * 60_000;
const count = { planned: 0, refused: 0, fault: 0 };
let slowestMs = 0;
for (let seed = first; values.only === undefined ? performance.now() < end : seed === first; seed++) {
  const verdict = await judges.judge(seed);
  count[verdict.kind]++;
  slowestMs = Math.max(slowestMs, verdict.ms);
  if (verdict.kind === "fault") keep(seed, verdict);
  const runs = count.planned + count.refused + count.fault;
  if (runs % 500 === 0) console.log(`${runs} runs, ${count.fault} finds`);
}
await judges.end();
const runs = count.planned + count.refused + count.fault;
console.log(
  `${runs} runs from seed ${first}: ${count.planned} planned, ${count.refused} refused, ${count.fault} finds; slowest ${(slowestMs / 1000).toFixed(1)} s`,
);
process.exitCode = count.fault > 0 ? 1 : 0;

/** Fixtures planned with the default settings, once for all tests that look at the plan: a plan is never changed. */
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { makePlan } from "../../core/plan/make-plan.ts";
import type { Plan } from "../../core/plan/types.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";

const planned = new Map<string, Plan>();

/** @param name as it is below fixtures/, without its ending: `cases/touching` */
export const fixtureText = (name: string): string =>
  readFileSync(fileURLToPath(new URL(`../../fixtures/${name}.svg`, import.meta.url)), "utf8");

/** The plan of `fixtureText(name)`. */
export function fixturePlan(name: string): Plan {
  const plan = planned.get(name) ?? makePlan(fixtureText(name), `${name}.svg`, DEFAULT_SETTINGS);
  planned.set(name, plan);
  return plan;
}

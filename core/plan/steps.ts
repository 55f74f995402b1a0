import type { SewingStep, SewnStep } from "./types.ts";

/** Whether the needle goes through the fabric in this step: everything but trims, jumps and colour changes. */
export const isSewn = (step: SewingStep): step is SewnStep =>
  step.role !== "trim" && step.role !== "jump" && step.role !== "colour-change";

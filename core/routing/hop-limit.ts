/**
 * From how much exposed thread on a strand ends: the jump threshold. One of nothing at all forbids hops, not that pieces
 * which meet follow each other: gaps that the drawing's tolerance can't tell from none are none even then.
 */
import { COVER_GAP_MM } from "../constants.ts";
import type { Settings } from "../settings.ts";

/** Exposed thread below this is hopped. */
export const hopLimitMm = ({ jumpThresholdMm }: Settings): number => Math.max(jumpThresholdMm, COVER_GAP_MM);

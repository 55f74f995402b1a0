/** Every entry of the menu, in its order there. */
import { check } from "./entries/check.ts";
import { pieces } from "./entries/pieces.ts";
import { pin } from "./entries/pin.ts";
import { plan } from "./entries/plan.ts";
import { save } from "./entries/save.ts";
import { strand } from "./entries/strand.ts";
import { strip } from "./entries/strip.ts";
import type { Entry } from "./entry.ts";

export const ENTRIES: readonly Entry[] = [plan, pieces, strand, pin, strip, check, save];

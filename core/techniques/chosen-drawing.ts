/** A drawing with its techniques chosen, as planning and the judging of moves both need it, once for both. */
import type { Artwork } from "../artwork/types.ts";
import type { Memory } from "../memory.ts";
import type { Settings } from "../settings.ts";
import { chooseTechniques } from "./choose-techniques.ts";

/** The drawing's pieces with their techniques; the same record again where the same pieces were planned before. */
export function chosenDrawing(artwork: Artwork, settings: Settings, memory: Memory): Artwork {
  const drawn = knownDrawing(artwork, memory);
  return memory.recall("chosen", [drawn, settings], () => chooseTechniques(drawn, settings, memory));
}

/** What of a drawing decides how it is sewn. */
export const knownDrawing = (artwork: Artwork, memory: Memory): Artwork =>
  memory.recall("drawn", [artwork], () => {
    const pieces = memory.known("drawn", artwork.pieces);
    const { size, inSewingOrder } = artwork;
    const what = `drawing ${size.widthMm} ${size.heightMm} ${inSewingOrder}`;
    return memory.recall(what, pieces, () => ({ ...artwork, pieces, findings: [] }));
  });

/** What routing has to say to the artist: breaks, forced strands, thread that shows, pins that could not be kept. */

import type { Pin } from "../artwork/types.ts";
import type { Finding } from "../findings.ts";
import { distance } from "../geometry/point.ts";
import type { Routes } from "../routing/types.ts";
import type { Sequence } from "../sequence/types.ts";

/** A pin that lands further than this from where it was put is worth a word. */
const PIN_SNAP_MM = 0.5;
/** Shorter stretches of dark thread under a light cover are not worth a word. */
const SHADOW_MM = 0.5;

export function planFindings(sequence: Sequence, routes: Routes, pins: readonly Pin[]): Finding[] {
  const { pieces } = sequence;
  const findings: Finding[] = [];
  for (const [k, piece] of pieces.entries()) {
    const stop = routes.breaks[k];
    const join = routes.joins[k];
    // Between copies the thread is cut always, and nothing would remove that.
    if (stop && piece.copy === pieces[k + 1]?.copy) {
      findings.push({
        code: "strand-break",
        severity: "info",
        piece: piece.id,
        at: stop.at,
        message: `The thread is cut after ${piece.id}: ${stop.reason}.`,
        remedy: stop.remedy,
      });
    }
    if (join && join.shadowMm > SHADOW_MM) {
      findings.push({
        code: "dark-under-light",
        severity: "warning",
        piece: piece.id,
        at: join.exit,
        message: `${join.shadowMm.toFixed(1)} mm of ${piece.colour} thread from ${piece.id} to ${pieces[k + 1].id} lie under a much lighter piece and may show through.`,
        remedy: `Let ${piece.id} and ${pieces[k + 1].id} overlap, or draw a darker piece over the way between them.`,
      });
    }
    if (join?.wished && join.exposedMm > 0) {
      findings.push({
        code: "strand-exposed",
        severity: "warning",
        piece: piece.id,
        at: join.exit,
        message: `To keep the strand you asked for, ${join.exposedMm.toFixed(1)} mm of thread stay in sight between ${piece.id} and ${pieces[k + 1].id}.`,
        remedy: `Draw a later piece over the gap, or take one of the two out of the strand.`,
      });
    }
  }
  return [...findings, ...pins.flatMap((pin) => pinFinding(pin, sequence, routes) ?? [])];
}

function pinFinding(pin: Pin, { pieces }: Sequence, routes: Routes): Finding | null {
  const k = pieces.findIndex((piece) => piece.id === pin.piece);
  if (k < 0) {
    return {
      code: "pin-without-piece",
      severity: "info",
      piece: pin.piece,
      at: pin.at,
      message: `A pinned ${pin.point} belongs to ${pin.piece}, which is not sewn any more; the pin is dropped.`,
      remedy: "Nothing to do, unless the piece should still be there.",
    };
  }
  const placed = pin.point === "entry" ? routes.entries[k] : routes.exits[k];
  const offMm = distance(placed, pin.at);
  if (offMm <= PIN_SNAP_MM) return null;
  return {
    code: "pin-off-piece",
    severity: "info",
    piece: pin.piece,
    at: placed,
    message: `The pinned ${pin.point} of ${pin.piece} lay ${offMm.toFixed(1)} mm outside it and was moved to the nearest point of the piece.`,
    remedy: `Drag the marker onto ${pin.piece} where it should be.`,
  };
}

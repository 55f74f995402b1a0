/**
 * The player's clock: while the player runs it moves the place in the sewing on, frame by frame of the screen, at
 * the speed that the state asks for. The session hears of the place some ten times a second, which is enough for
 * figures and sliders; the canvas follows every frame.
 */
import type { PlayerState, Session } from "../session-types.ts";

const TELL_EVERY_MS = 100;
/** A frame that comes later than this, of a page that slept, counts no more. */
const LONGEST_FRAME_MS = 250;

export interface PlayerClock {
  /** Where the sewing is now; `null` while the player is closed. */
  place(): number | null;
  /** Takes in what the session says. */
  follow(player: PlayerState, stitches: number): void;
  stop(): void;
}

/** @param onFrame called with each new place while the player runs */
export function playerClock(session: Session, onFrame: (at: number) => void): PlayerClock {
  let player: PlayerState = { isPlaying: false, at: null, stitchesPerSecond: 0 };
  let stitches = 0;
  let at: number | null = null;
  /** What the session was told last: anything else that it says is the artist's wish. */
  let told: number | null = null;
  let toldAt = 0;
  let before = 0;
  let frame = 0;

  const tell = (place: number, isPlaying: boolean): void => {
    told = place;
    session.play({ at: place, isPlaying });
  };

  const tick = (now: number): void => {
    frame = 0;
    if (!player.isPlaying || at === null) return;
    const passed = Math.min(LONGEST_FRAME_MS, Math.max(0, now - before));
    before = now;
    at = Math.min(stitches, at + (passed * player.stitchesPerSecond) / 1000);
    const place = Math.floor(at);
    onFrame(place);
    if (place >= stitches) tell(place, false);
    else {
      frame = requestAnimationFrame(tick);
      if (now - toldAt >= TELL_EVERY_MS) {
        toldAt = now;
        tell(place, true);
      }
    }
  };

  return {
    place: () => (at === null ? null : Math.floor(at)),
    follow(next, count) {
      const begins = next.isPlaying && !player.isPlaying;
      player = next;
      stitches = count;
      if (next.at !== told || at === null) at = next.at;
      told = next.at;
      // Played when closed or at its end, it begins anew.
      if (begins && (at === null || at >= count)) at = 0;
      if (!player.isPlaying || at === null) {
        cancelAnimationFrame(frame);
        frame = 0;
      } else if (frame === 0) {
        before = performance.now();
        frame = requestAnimationFrame(tick);
      }
    },
    stop: () => cancelAnimationFrame(frame),
  };
}

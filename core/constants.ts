/**
 * Tolerances that are not settings: each with its reason and what happens at its limit.
 */

/**
 * Curves become polylines that stay this near the true curve. A tenth of the thread's width: nothing finer can
 * be seen or sewn. Smaller values cost time in every later stage and change no stitch.
 */
export const FLATTEN_TOLERANCE_MM = 0.05;

/**
 * Clipper works on integers; this many make a millimetre. 0.1 µm is far below the flattening tolerance, and
 * 4.7e7 / 1e4 = 4,700 mm is the largest coordinate before clipper-lib falls back to slow big integers.
 */
export const CLIPPER_UNITS_PER_MM = 10_000;

/**
 * Gaps in the cover narrower than this are closed: two curves that abut in the drawing are each flattened
 * within the tolerance, so a gap below it says nothing about the drawing. A connector across it is tucked.
 */
export const COVER_GAP_MM = FLATTEN_TOLERANCE_MM;

/** Two points nearer than this are the same needle hole: the machine file counts in 0.1 mm. */
export const SAME_POINT_MM = 1e-6;

/** A marker this far from where it was planned was moved by hand; below it, an editor rounded its numbers. */
export const MARKER_MOVED_MM = 0.05;

import { CLIPPER_UNITS_PER_MM, FLATTEN_TOLERANCE_MM } from "../constants.ts";

/** Tolerance for curves, with room for the rounding of each point to the polygon library's grid. */
export const CURVE_TOLERANCE_MM = FLATTEN_TOLERANCE_MM - 1 / CLIPPER_UNITS_PER_MM;

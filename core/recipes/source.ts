/** Where a figure comes from, as it is shown to the one who sews by it. */

/** Known in the trade, measured and published by nobody that we know of. */
export const COMMON_PRACTICE = "common practice, no source";

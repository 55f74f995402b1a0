/** Files of the installed plugin, by name: the program, and what is kept of it in compiled form (empty at first). */
export const PROGRAM = "program.cjs";
export const CACHE = "program.cache";

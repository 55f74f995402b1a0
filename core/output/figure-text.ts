/** Figures as text for people, the same on every machine, whatever its locale. */

/** Whole numbers with thousands set apart: 12,345. */
export const count = (value: number): string =>
  Math.round(value)
    .toString()
    .replace(/\B(?=(\d{3})+$)/g, ",");

/** Millimetres to a tenth, without a needless `.0`: 12.3, 80. */
export const mm = (value: number): string => String(Math.round(value * 10) / 10 + 0);

/** Thread is bought by the metre: 45.2 m. */
export const metres = (valueMm: number): string => `${(valueMm / 1000).toFixed(1)} m`;

/** 48 s, 12 min 5 s, 1 h 20 min: as exact as an estimate deserves. */
export function duration(seconds: number): string {
  const whole = Math.round(seconds);
  if (whole < 60) return `${whole} s`;
  if (whole < 3600) return `${Math.floor(whole / 60)} min ${whole % 60} s`;
  const minutes = Math.round(whole / 60);
  return `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
}

/** `1 piece`, `2 pieces`. */
export const plural = (value: number, one: string, many = `${one}s`): string =>
  `${count(value)} ${value === 1 ? one : many}`;

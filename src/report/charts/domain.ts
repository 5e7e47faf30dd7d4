import type { LinePoint } from './reduce.js';

/** A range that holds the lines, in whole steps, and the wanted values; what lies beyond its limits is cut off, and marked. */
export function domainOf(
  lines: readonly (readonly LinePoint[])[],
  wanted: readonly number[],
  limits: readonly [number, number],
  step = 10,
): [number, number] {
  let low = Math.min(...wanted);
  let high = Math.max(...wanted);
  for (const line of lines) {
    for (const { y } of line) {
      if (y >= limits[0] && y < low) low = y;
      if (y <= limits[1] && y > high) high = y;
    }
  }
  return [
    Math.max(limits[0], Math.floor(low / step) * step),
    Math.min(limits[1], Math.ceil(high / step) * step),
  ];
}

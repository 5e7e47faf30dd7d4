import type { Targets } from '../../summarize/targets.js';
import { COLOURS } from './palette.js';
import type { ValueBand } from './panel.js';

/** How strongly bands are shaded: the lower under the floor, the stronger. */
export const BAND_SHADES = { lowest: 0.5, low: 0.25, target: 0.16 } as const;

/** The bands of CPP as they are shaded: those that end at the floor or under it, and the target above it; none over the last edge. */
export function cppBands({ cppEdgesMmHg, cppFloorMmHg }: Targets): ValueBand[] {
  const edges = [Number.NEGATIVE_INFINITY, ...cppEdgesMmHg];
  return edges.slice(0, -1).map((from, i) => {
    const to = edges[i + 1];
    const isLow = to <= cppFloorMmHg;
    return {
      from,
      to,
      colour: isLow ? COLOURS.past : COLOURS.cpp,
      opacity: isLow ? (i === 0 ? BAND_SHADES.lowest : BAND_SHADES.low) : BAND_SHADES.target,
    };
  });
}

import { PERIOD_PADDING } from './layers.js';
import type { Spec } from './spec.js';
import type { TimeAxis } from './time-axis.js';

/** A plot of a stack, with its height in pixels. */
export interface StackPart {
  readonly height: number;
  readonly spec: (showHours: boolean) => Spec;
}

/** Between the plots, pixels: the lowest label of one and the highest of the next stand above each other. */
const SPACING = 14;
const TOP = 8;

/**
 * Plots over one time, below each other, with hours under the last. The size is ours to say, since the drawing code
 * only guesses how wide text is: all of the height is padding, and plots go where text does not count.
 */
export function stacked(parts: readonly StackPart[], axis: TimeAxis): Spec {
  const height = parts.reduce((sum, part) => sum + part.height, 0) + SPACING * (parts.length - 1);
  return {
    vconcat: parts.map(({ spec }, i) => spec(i === parts.length - 1)),
    spacing: SPACING,
    bounds: 'flush',
    autosize: { type: 'none' },
    padding: {
      left: PERIOD_PADDING.left,
      right: PERIOD_PADDING.right,
      top: TOP,
      bottom: height + axis.height,
    },
  };
}

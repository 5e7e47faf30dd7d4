import type { Spec } from './spec.js';

/** Room beside a plot, pixels; `below` is for what stands under it. */
export interface Room {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly below: number;
}

/**
 * A plot that stands alone, with just as much room around it as is said: only in a stack does the height of plots count as
 * padding, and not as what text is guessed to take.
 */
export const onePlot = (plot: Spec, height: number, { left, right, top, below }: Room): Spec => ({
  vconcat: [plot],
  bounds: 'flush',
  autosize: { type: 'none' },
  padding: { left, right, top, bottom: height + below },
});

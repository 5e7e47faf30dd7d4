import { mixed } from './mixed.js';
import { COLOURS } from './palette.js';

/** A range of what a cell shows, and its colour. */
export interface ColourStep {
  /** From this value on, up to that of the next step. */
  readonly from: number;
  readonly fill: string;
  /** Of fine lines over it, so that it is told from another of the same lightness where there is no colour. */
  readonly ruled?: string;
}

/**
 * Of Okabe and Ito's set, blue and vermillion stay apart for every kind of colour vision. Here they are no channels, so a
 * chart with them has no line of one.
 */
const BETTER = '#0072b2';
const WORSE = '#d55e00';

/** Correlations at which the colour changes, the same in all maps so that two of them compare. */
const EDGES = [0.05, 0.1, 0.2, 0.3, 0.4] as const;
/** Shares of the colour in the paper from each of them on. */
const SHARES = [0.16, 0.34, 0.54, 0.76, 1] as const;
/** Of the colour in the lines over each of them: dark over light, and light over dark. */
const RULED_SHARES = [0.66, 0.86, 1, 0.1, 0.24] as const;

/**
 * From the lowest correlation: more episodes with a worse outcome, about none, more episodes with a better outcome. The last
 * are ruled: blue and vermillion are about as light as each other, and a grey print would show them alike.
 */
export const CORRELATION_STEPS: readonly ColourStep[] = [
  ...EDGES.map((_, i) => {
    const at = EDGES.length - 1 - i;
    return {
      from: at === EDGES.length - 1 ? Number.NEGATIVE_INFINITY : -EDGES[at + 1],
      fill: mixed(SHARES[at], WORSE),
    };
  }),
  { from: -EDGES[0], fill: COLOURS.paper },
  ...EDGES.map((from, at) => ({
    from,
    fill: mixed(SHARES[at], BETTER),
    ruled: mixed(RULED_SHARES[at], BETTER),
  })),
];

/** Patients with such an episode, doubling: grey, so that it reads as no direction. */
export const patientSteps = (least: number): readonly ColourStep[] =>
  [0.1, 0.24, 0.38, 0.54, 0.72].map((part, i) => ({ from: least * 2 ** i, fill: mixed(part, COLOURS.ink) }));

/** The place of the step in which a value lies; a value under the first is in none. */
export const stepAt = (steps: readonly ColourStep[], value: number): number =>
  steps.reduce((found, { from }, i) => (value >= from ? i : found), -1);

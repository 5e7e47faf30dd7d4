import type { EstimateResult } from '../results-estimate.js';
import type { SpreadResult } from '../results-study-cohort.js';
import { NONE } from '../words.js';

type Bounds = Pick<EstimateResult, 'lower' | 'upper'>;

/** What a p has to be under for a sentence to speak of it; common practice, no source. */
export const P_LIMIT = 0.05;
const MOST_DECIMALS = 6;

/**
 * A p with three decimals, `<0.001` under; a p that three decimals would round up to 0.05 has as many as show that it is
 * under it.
 */
export function pText(p: number | null): string {
  if (p === null) return NONE;
  if (p < 0.001) return '<0.001';
  let text = p.toFixed(3);
  for (let decimals = 4; p < P_LIMIT && Number(text) >= P_LIMIT; decimals++) {
    if (decimals > MOST_DECIMALS) return `<${P_LIMIT}`;
    text = p.toFixed(decimals);
  }
  return text;
}

/** W, which is whole or a half more. */
export const pairsText = (pairs: number | null): string =>
  pairs === null ? NONE : pairs.toFixed(Number.isInteger(pairs) ? 0 : 1);

/** An odds ratio with two decimals; from 100 on none, since no such ratio is known as well. */
export function oddsText(odds: number | null): string {
  if (odds === null) return NONE;
  if (odds < 0.005) return '<0.01';
  if (odds >= 9999.5) return '>9999';
  return odds.toFixed(odds >= 99.995 ? 0 : 2);
}

/** An area under the curve with two decimals; only all pairs are 1.00, and only none are 0.00. */
export function areaText(area: number | null): string {
  if (area === null) return NONE;
  if (area > 0 && area < 0.005) return '<0.01';
  if (area < 1 && area >= 0.995) return '>0.99';
  return area.toFixed(2);
}

/** `1.44 to 10.72`; empty where there is no interval. */
export const boundsText = ({ lower, upper }: Bounds, words: (value: number | null) => string): string =>
  lower === null && upper === null ? '' : `${words(lower)} to ${words(upper)}`;

const UNITS: Readonly<Record<string, string>> = {
  'mm[Hg]': 'mmHg',
  'mm[Hg].h': 'mmHg·h',
  '{episodes}': 'episodes',
  '{episodes}/d': 'episodes a day',
  '1': '',
};

/** A UCUM unit as people write it; empty for a pure number. */
export const unitText = (unit: string): string => UNITS[unit] ?? unit;

/** `Mean ICP, mmHg`; what is told per day says so in its title. */
export const withUnit = ({ title, unit }: { readonly title: string; readonly unit: string }): string =>
  unitText(unit) === '' || unit === '{episodes}/d' ? title : `${title}, ${unitText(unit)}`;

/** `per 5 mmHg`, `per 0.1`: the step of an odds ratio. */
export const stepText = ({ step, unit }: { readonly step: number; readonly unit: string }): string => {
  const words = unit === '{episodes}' && step === 1 ? 'episode' : unitText(unit);
  return `per ${step}${words === '' ? '' : ` ${words}`}`;
};

/** How many decimals values of a feature have, by the largest of them. */
function decimalsFor(values: readonly number[]): number {
  if (values.every(Number.isInteger)) return 0;
  const most = Math.max(0, ...values.map(Math.abs));
  return most >= 99.95 ? 0 : most >= 9.995 ? 1 : 2;
}

/**
 * Writes the values of one feature, all with the same decimals. Where none is below 0, a value that is there is never shown
 * as none.
 *
 * @param values those that will be written, which decide how many decimals
 */
export function valuesText(values: readonly (number | null)[]): (value: number | null) => string {
  const known = values.filter((value) => value !== null);
  const decimals = decimalsFor(known);
  const isSigned = known.some((value) => value < 0);
  return (value) => {
    if (value === null) return NONE;
    const text = value.toFixed(decimals);
    if (Number(text) !== 0) return text.replace('-', '−');
    return value === 0 || isSigned ? (0).toFixed(decimals) : `<${(10 ** -decimals).toFixed(decimals)}`;
  };
}

/** Median and quartiles as they are written beside each other. */
export interface SpreadWords {
  readonly median: string;
  /** `13.1 to 18.4`; empty where nothing is known. */
  readonly quartiles: string;
}

/** Spreads of one feature, all with the same decimals. */
export function spreadsText(spreads: readonly SpreadResult[]): SpreadWords[] {
  const words = valuesText(
    spreads.flatMap(({ median, lowerQuartile, upperQuartile }) => [median, lowerQuartile, upperQuartile]),
  );
  return spreads.map(({ median, lowerQuartile, upperQuartile }) => ({
    median: words(median),
    quartiles: median === null ? '' : `${words(lowerQuartile)} to ${words(upperQuartile)}`,
  }));
}

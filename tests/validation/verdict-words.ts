import { NONE } from '../../src/report/words.js';
import type { Verdict } from './aggregate/targets.js';
import { mmHg, percent } from './words.js';

/** A measured or wanted figure in the unit of its target. */
export function figure(value: number | null, unit: Verdict['unit']): string {
  if (value === null) return NONE;
  switch (unit) {
    case 'share':
      return percent(value);
    case 'mmHg':
      return `${mmHg(value)} mmHg`;
    case 'episodes':
      return String(Math.round(value * 100) / 100);
    case 'kinds':
      return `${value}`;
  }
}

/** What was wanted. */
export const wanted = ({ target, unit, atLeast }: Verdict): string =>
  unit === 'kinds' ? `all ${target}` : `${atLeast ? 'at least' : 'at most'} ${figure(target, unit)}`;

/** In words, so that a reader needs no colour. */
export const metOrNot = ({ met }: Verdict): string =>
  met === null ? 'nothing to measure' : met ? 'met' : 'not met';

import { listed } from '../words.js';
import { inSentence } from './feature-titles.js';

/** A feature and why something of it is missing. */
export interface MissingOf {
  readonly title: string;
  readonly reason: string;
}

/** `5 patients have a value (mean ICP and mean CPP); no patient has one (mean PRx)`; a reason that holds for all by itself. */
export function reasonWords(missing: readonly MissingOf[]): string {
  const reasons = [...new Set(missing.map(({ reason }) => reason))];
  if (reasons.length === 1) return reasons[0];
  return reasons
    .map((reason) => {
      const titles = missing.filter((one) => one.reason === reason).map(({ title }) => inSentence(title));
      return `${reason} (${listed(titles)})`;
    })
    .join('; ');
}

import { didYouMean } from '../ingest/tables/nearest-word.js';
import type { FeatureLevels } from '../summarize/study/feature-levels.js';

/** The unit at the end of a key is what people leave out first; capitals tell nothing. */
const withoutUnit = (key: string): string =>
  key.replace(/(?:MmHgHours|MmHg|Hours|Minutes)$/i, '').toLowerCase();

/** Keys of features past a pressure differ in it alone. */
const PRESSURE = /^(icp|cpp)(\w+?(?:Above|Below))(\d+(?:\.\d+)?)(.*)$/;

/** The feature past another pressure of a key that would be one; null where it is no such key. */
function pastPressure(key: string, known: readonly string[], levels: FeatureLevels): string | null {
  const [, channel, what, pressure, unit] = PRESSURE.exec(key) ?? [];
  const isSuch = known.some((one) => {
    const match = PRESSURE.exec(one);
    return match !== null && match[1] === channel && match[2] === what && match[4] === unit;
  });
  if (!isSuch) return null;
  const list = channel === 'icp' ? 'icpAboveMmHg' : 'cppBelowMmHg';
  return `Add ${pressure} to study.levels: {${list}: [...]}, which are ${levels[list].join(', ')} now.`;
}

/** What to do about a key that is none of the features. */
export function featureHint(key: string, known: readonly string[], levels: FeatureLevels): string {
  const past = pastPressure(key, known, levels);
  if (past !== null) return past;
  const bare = new Map(known.map((one) => [withoutUnit(one), one]));
  const near = /"(.*)"/.exec(didYouMean(withoutUnit(key), [...bare.keys()]))?.[1];
  const found = near === undefined ? '' : `Did you mean "${bare.get(near)}"? `;
  return `${found}README.md tells how features are named; tables/dictionary.csv of a study lists them all.`;
}

import type { DescribedFeature } from './asked-result.js';

/** Units of features as a person writes them; a share, and an index, has none. */
const UNIT_WORDS: Readonly<Record<string, string>> = {
  'mm[Hg]': 'mmHg',
  'mm[Hg].h': 'mmHg·h',
  '{episodes}': 'episodes',
  '{episodes}/d': 'episodes a day',
  '1': '',
};

/** A share is told in per cent. */
export const isShare = ({ key, unit }: Pick<DescribedFeature, 'key' | 'unit'>): boolean =>
  unit === '1' && key.includes('Share');

/** `mmHg`, `h`, `%`; empty for an index. */
export const featureUnit = (feature: Pick<DescribedFeature, 'key' | 'unit'>): string =>
  isShare(feature) ? '%' : (UNIT_WORDS[feature.unit] ?? feature.unit);

/** Values under 1 are usual in an index and in a dose per hour. */
const decimalsOf = ({ key, unit }: Pick<DescribedFeature, 'key' | 'unit'>): number =>
  unit === 'min' ? 0 : unit === '1' || key.includes('PerHour') ? 2 : 1;

/** A value of a feature without its unit, for tables; shares in per cent. */
export function featureNumber(feature: Pick<DescribedFeature, 'key' | 'unit'>, value: number): string {
  const isPercent = isShare(feature);
  const text = (isPercent ? value * 100 : value).toFixed(isPercent ? 1 : decimalsOf(feature));
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−');
}

/** Totals of a window, and the same per monitored time. */
const RATES: readonly (readonly [RegExp, string])[] = [
  [/^(icp|cpp)Hours(Above|Below)(.+)$/, '$1Share$2$3'],
  [/^(icp|cpp)Dose(Above|Below)(.+)MmHgHours$/, '$1DosePerHour$2$3MmHg'],
  [/^icpEpisodes$/, 'icpEpisodesPerDay'],
];

/** The key of the feature that is a total per monitored hour or day; null for what is no such total. */
export function rateOf(key: string): string | null {
  const found = RATES.find(([form]) => form.test(key));
  return found ? key.replace(...found) : null;
}

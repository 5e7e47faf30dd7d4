import type { WrittenEntry } from '../../ingest/tables/care-entries.js';

/**
 * When treatments were given, milliseconds UTC, rising: entries that tell of a treatment or of opening the drain; where
 * words are given, those whose text holds one of them, and no others. Common practice, no source.
 */
export function treatmentTimes(care: readonly WrittenEntry[], words: readonly string[] | null): number[] {
  const wanted = words?.map((word) => word.toLowerCase());
  const isTreatment = ({ kinds, text }: WrittenEntry): boolean =>
    wanted
      ? wanted.some((word) => text.toLowerCase().includes(word))
      : kinds.some((kind) => kind === 'treatment' || kind === 'drainOpen');
  return care
    .filter(isTreatment)
    .map(({ start }) => start)
    .sort((a, b) => a - b);
}

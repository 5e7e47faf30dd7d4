import type { CareEntry } from '../../recording/care.js';
import type { CareRow } from './care-log.js';

/** A row of a care log of which it is known whose it is. */
export type NamedCareRow = CareRow & { readonly patient: string };

/** An entry with its words as they were written. */
export interface WrittenEntry extends CareEntry {
  readonly text: string;
}

/** What the rows tell of each patient, by start; rows of one time keep their order. */
export function careEntries(rows: readonly NamedCareRow[]): Map<string, WrittenEntry[]> {
  const byPatient = new Map<string, WrittenEntry[]>();
  for (const { patient, startUtcMs, endUtcMs, kind, also, angleDegrees, text } of rows) {
    const entries = byPatient.get(patient) ?? [];
    byPatient.set(patient, entries);
    entries.push({ start: startUtcMs, end: endUtcMs, kinds: [kind, ...also], angleDegrees, text });
  }
  for (const entries of byPatient.values()) entries.sort((a, b) => a.start - b.start);
  return byPatient;
}

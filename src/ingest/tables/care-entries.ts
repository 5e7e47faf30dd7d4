import type { CareEntry } from '../../recording/care.js';
import type { RowSetAside } from '../rows/set-aside.js';
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

/** What makes two rows the same whatever file they stand in. */
const contentOf = ({ file: _, line: __, ...content }: NamedCareRow): string => JSON.stringify(content);

/** Sets aside the rows of a file that earlier files hold already, as where two exports of a log overlap in time. */
export class RowsSeen {
  private readonly places = new Map<string, string>();

  /** The rows that are new, and the others with where they stood. */
  take(rows: readonly NamedCareRow[]): { rows: NamedCareRow[]; setAside: RowSetAside[] } {
    const setAside: RowSetAside[] = [];
    const fresh: NamedCareRow[] = [];
    for (const row of rows) {
      const { file, line } = row;
      const before = this.places.get(contentOf(row));
      if (before === undefined) fresh.push(row);
      else {
        const reason = `the same as ${before}, and nothing new`;
        setAside.push({ file, line, rows: 1, kind: 'repeat', reason });
      }
    }
    // Rows of one file that are told apart only by columns nobody reads stay, as when it was read.
    for (const row of fresh) this.places.set(contentOf(row), `line ${row.line} of ${row.file}`);
    return { rows: fresh, setAside };
  }
}

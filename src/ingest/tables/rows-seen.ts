import type { RowSetAside } from '../rows/set-aside.js';
import type { RowPlace } from './describe.js';

/** What makes two rows the same whatever file they stand in. */
const contentOf = ({ file: _, line: __, ...content }: RowPlace): string => JSON.stringify(content);

/** Sets aside the rows of a file that earlier files hold already, as where two exports of a log overlap in time. */
export class RowsSeen<R extends RowPlace> {
  private readonly places = new Map<string, string>();

  /** The rows that are new, and the others with where they stood. */
  take(rows: readonly R[]): { rows: R[]; setAside: RowSetAside[] } {
    const setAside: RowSetAside[] = [];
    const fresh: R[] = [];
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

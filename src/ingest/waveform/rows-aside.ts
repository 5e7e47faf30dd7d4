import type { RowSetAside, SetAsideKind } from '../rows/set-aside.js';

/** Rows that were set aside for one reason, as one entry: there may be as many as rows. */
export class RowsAside {
  readonly entries: RowSetAside[] = [];
  private readonly places = new Map<string, number>();

  constructor(private readonly file: string) {}

  add(line: number, rows: number, kind: SetAsideKind, reason: string, fix?: string): void {
    const at = this.places.get(reason);
    if (at === undefined) {
      this.places.set(reason, this.entries.length);
      this.entries.push({ file: this.file, line, rows, kind, reason, fix });
    } else this.entries[at] = { ...this.entries[at], rows: this.entries[at].rows + rows };
  }
}

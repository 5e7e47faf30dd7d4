import type { ChannelKind } from '../../recording/channel.js';
import { shorten } from '../../recording/problem.js';
import type { ChannelColumn } from '../columns/columns.js';

/** Channels that figures rest on: a cell of these that is no number puts its row in doubt. */
const RESTED_ON: ReadonlySet<ChannelKind> = new Set(['icp', 'icpDrain', 'map', 'sbp', 'dbp']);

/** True where a cell that is no number is a missing one, since the pressures of its row stand without it. */
export const mayBeMissing = ({ kind }: ChannelColumn): boolean => !RESTED_ON.has(kind);

/** Counts the cells beside the pressures that are no number, column by column, in rows that are used. */
export class UnreadCells {
  private readonly byColumn = new Map<ChannelColumn, { readonly text: string; rows: number }>();

  add(column: ChannelColumn, text: string): void {
    const known = this.byColumn.get(column);
    if (known) known.rows++;
    else this.byColumn.set(column, { text, rows: 1 });
  }

  /** What somebody should know of them, a sentence a column. */
  words(): string[] {
    return [...this.byColumn].map(([{ header }, { text, rows }]) => {
      const cell = `the cell of "${shorten(header)}" is no number`;
      return rows === 1
        ? `in one row ${cell}, "${shorten(text)}": taken as missing there.`
        : `in ${rows} rows ${cell}, as "${shorten(text)}": taken as missing there.`;
    });
  }
}

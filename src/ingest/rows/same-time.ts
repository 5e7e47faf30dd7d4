import type { ChannelKind } from '../../recording/channel.js';
import type { RowSeries } from './row-series.js';
import type { RowSetAside } from './set-aside.js';

/** A row of one of the series. */
export interface RowRef {
  readonly series: RowSeries;
  readonly index: number;
}

const lineOf = ({ series, index }: RowRef): number => series.lines.at(index);

/** The row's values by channel, blanks left out. */
function valuesOf({ series, index }: RowRef): [ChannelKind, number][] {
  return series.channels.flatMap(({ kind, values }): [ChannelKind, number][] => {
    const value = values.at(index);
    return Number.isNaN(value) ? [] : [[kind, value]];
  });
}

/** Two values that differ, with as many decimals as it takes to show it. */
function both(here: number, there: number): string {
  const shown = (value: number, decimals: number): string => String(Number(value.toFixed(decimals)));
  const decimals = [3, 6, 12].find((n) => shown(here, n) !== shown(there, n)) ?? 15;
  return `${shown(here, decimals)} here, ${shown(there, decimals)} there`;
}

/**
 * Rows at the same time: where they agree, each value stands once and a row that adds nothing is set aside; where two
 * values of a channel disagree, nobody can say which is right, and all rows that hold one are set aside.
 */
export function resolveSameTime(rows: readonly RowRef[]): { kept: RowRef[]; aside: RowSetAside[] } {
  const holders = new Map<ChannelKind, { row: RowRef; value: number }[]>();
  for (const row of rows) {
    for (const [kind, value] of valuesOf(row)) {
      const list = holders.get(kind) ?? [];
      list.push({ row, value });
      holders.set(kind, list);
    }
  }
  const contradictions = new Map<RowRef, string>();
  for (const [kind, list] of holders) {
    const other = list.find(({ value }) => value !== list[0].value);
    if (!other) continue;
    for (const { row, value } of list) {
      const against = value === list[0].value ? other : list[0];
      const place = `line ${lineOf(against.row)}${against.row.series.file === row.series.file ? '' : ` of ${against.row.series.file}`}`;
      contradictions.set(
        row,
        contradictions.get(row) ??
          (row.series.rowsAt(row.index) > 1
            ? `the second that begins here has another mean of ${kind.toUpperCase()} than that from ${place} on: ${both(value, against.value)}`
            : `same time as ${place}, with another ${kind.toUpperCase()}: ${both(value, against.value)}`),
      );
    }
  }
  const kept: RowRef[] = [];
  const aside: RowSetAside[] = [];
  const given = new Set<ChannelKind>();
  for (const row of rows) {
    const place = { file: row.series.file, line: lineOf(row), rows: row.series.rowsAt(row.index) } as const;
    const contradiction = contradictions.get(row);
    if (contradiction !== undefined) {
      aside.push({ ...place, kind: 'conflict', reason: contradiction, fix: CONFLICT_FIX });
      continue;
    }
    const values = valuesOf(row);
    const adds = values.some(([kind]) => !given.has(kind));
    if (adds || (values.length === 0 && kept.length === 0 && row === rows.at(-1))) {
      kept.push(row);
      for (const [kind] of values) given.add(kind);
      continue;
    }
    const first = kept[0] ?? rows.find((other) => other !== row);
    const where = `line ${lineOf(first)}${first.series.file === row.series.file ? '' : ` of ${first.series.file}`}`;
    aside.push({ ...place, kind: 'repeat', reason: `same time as ${where}, and nothing new` });
  }
  return { kept, aside };
}

const CONFLICT_FIX =
  'Where each row has a time of its own, export it with the seconds; where files of two patients or two monitors are mixed, tell them apart.';

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { ExportFile } from '../../src/ingest/find-exports.js';
import { groupByPatient } from '../../src/ingest/group-files.js';
import { type Ingested, ingestGroup } from '../../src/ingest/ingest.js';
import type { IngestSettings } from '../../src/ingest/settings.js';
import { rawSignal } from '../../src/recording/recording.js';
import { rowsSetAside, seeded, settingsWith } from './support.js';
import {
  type Draft,
  drafts,
  isDecidable,
  partsOf,
  type Row,
  rowsOf,
  type Style,
  styles,
  type WrittenFile,
  write,
} from './written-exports.js';

const RELATIVE = 1e-9;

/** What a file shows of its kind and encoding at once. */
const FIRST_BYTES = 512;

/** A file in memory, which comes in pieces of so many bytes behind the first. */
const inMemory = ({ name, bytes }: WrittenFile, chunkBytes: number): ExportFile => ({
  path: name,
  name,
  open: async function* () {
    yield bytes.subarray(0, FIRST_BYTES);
    for (let i = FIRST_BYTES; i < bytes.length; i += chunkBytes) yield bytes.subarray(i, i + chunkBytes);
  },
});

async function read(
  files: readonly WrittenFile[],
  more: Partial<IngestSettings>,
  chunkBytes = 1 << 18,
): Promise<Ingested[]> {
  const settings = settingsWith(more);
  const sorted = [...files].sort((a, b) => (a.name < b.name ? -1 : 1));
  const { groups } = groupByPatient(
    sorted.map((file) => inMemory(file, chunkBytes)),
    settings,
  );
  return (await Promise.all(groups.map((group) => ingestGroup(group, settings)))).flat();
}

/** Compares every channel with the rows that were written. */
function expectRows(outcome: Ingested, draft: Draft, rows: readonly Row[]): void {
  expect(outcome.problem).toBeNull();
  const recording = outcome.recording!;
  const kinds = draft.kinds
    .filter((_, c) => rows.some(({ values }) => values[c] !== null))
    .map(({ kind }) => kind);
  const held = Object.values(recording.channels).filter(({ signal }) => signal.times.length > 0);
  expect(held.map(({ kind }) => kind).sort()).toEqual([...kinds].sort());
  for (const [c, { kind }] of draft.kinds.entries()) {
    const written = rows.filter(({ values }) => values[c] !== null);
    const { times, values } = rawSignal(recording, kind);
    expect(
      [...times].map((t) => new Date(Math.round(t)).toISOString()),
      kind,
    ).toEqual(written.map(({ at }) => new Date(at).toISOString()));
    const off = written.flatMap((row, i) => {
      const value = row.values[c]!;
      return Math.abs(values[i] - value) <= RELATIVE * Math.max(1, Math.abs(value))
        ? []
        : [[values[i], value]];
    });
    expect(off, kind).toEqual([]);
  }
}

interface Trip {
  readonly draft: Draft;
  readonly style: Style;
  readonly rows: readonly Row[];
  readonly parts: readonly Row[][];
  readonly files: readonly WrittenFile[];
  readonly outcome: Ingested;
}

/** Writes a random recording and reads it. */
async function trip(draft: Draft, style: Style): Promise<Trip> {
  const rows = rowsOf(draft, style.form);
  const parts = partsOf(draft, rows);
  // A file, and so the patient, needs an ICP.
  for (const part of parts) (part[0].values as (number | null)[])[0] ??= 12;
  const { files, settings } = write(draft, style, parts);
  const [outcome, ...others] = await read(files, settings, style.chunkBytes);
  expect(others).toEqual([]);
  return { draft, style, rows, parts, files, outcome };
}

/** True where nobody could tell which pass of a repeated hour a file means. */
const isDoubtful = ({ style, parts, draft }: Trip): boolean =>
  style.form.isLocal && !parts.every((part) => isDecidable(part, draft.zone));

/** True where the reading says that nothing tells which pass of a repeated hour is meant. */
const saysDoubt = ({ outcome }: Trip): boolean =>
  outcome.warnings.some((warning) => warning.includes('nothing says which one is meant'));

/** In the night of a change rows without an offset are certain only where none are missing. */
const withoutHolesAtChange = (draft: Draft, { form }: Style): Draft =>
  form.isLocal && draft.isNearChange
    ? { ...draft, rows: draft.rows.map((row) => ({ ...row, hole: 0 })) }
    : draft;

/** Rows each minute to half an hour around a change of the clock. */
const nightDrafts = fc
  .tuple(drafts, fc.constantFrom(60_000, 300_000, 600_000))
  .map(([draft, stepMs]): Draft => ({ ...draft, isNearChange: true, stepMs }));

describe('a recording that was written by a monitor', () => {
  test('reads back equal, whatever the shape, the dialect, the form of its times and its files', async () => {
    let doubtful = 0;
    await fc.assert(
      fc.asyncProperty(drafts, styles, async (draft, style) => {
        const made = await trip(withoutHolesAtChange(draft, style), style);
        if (isDoubtful(made) || saysDoubt(made)) {
          doubtful++;
          // Then it has to be said.
          if (made.outcome.problem !== null || made.outcome.warnings.length > 0) return;
        }
        expectRows(made.outcome, made.draft, made.rows);
      }),
      seeded(2500),
    );
    // The doubtful ones are few, or the property would say little.
    expect(doubtful).toBeLessThan(250);
  });

  test('reads back equal in the night of a change, with rows missing, or it is said that nothing tells', async () => {
    let doubtful = 0;
    await fc.assert(
      fc.asyncProperty(nightDrafts, styles, async (draft, style) => {
        const made = await trip(draft, style);
        const { problem, warnings, setAside } = made.outcome;
        const isSaid =
          problem !== null || warnings.length > 0 || setAside.some(({ kind }) => kind !== 'footer');
        if (saysDoubt(made)) doubtful++;
        if ((isDoubtful(made) && isSaid) || saysDoubt(made)) return;
        expectRows(made.outcome, draft, made.rows);
      }),
      seeded(1000),
    );
    expect(doubtful).toBeLessThan(150);
  });

  test('has each row used or set aside: only lines behind the data and rows that stand in two files are', async () => {
    await fc.assert(
      fc.asyncProperty(drafts, styles, async (draft, style) => {
        const made = await trip(withoutHolesAtChange(draft, style), style);
        const { outcome, files, rows } = made;
        if (isDoubtful(made)) return;
        const footers = files.reduce((sum, file) => sum + file.footers, 0);
        const read = files.reduce((sum, file) => sum + file.rows, 0);
        const distinct = write(draft, style, [[...rows]]).files[0].rows;
        expect({
          read: outcome.rowsRead,
          aside: rowsSetAside(outcome),
          other: outcome.setAside.filter(({ kind }) => kind !== 'footer' && kind !== 'repeat'),
        }).toEqual({ read: read + footers, aside: footers + read - distinct, other: [] });
      }),
      seeded(500),
    );
  });
});

/** A row of a column of dates, or something else that stands in such a column. */
const dayCells = fc.record({
  day: fc.oneof(
    fc.integer({ min: 1, max: 31 }),
    fc.integer({ min: 10, max: 13 }),
    fc.integer({ min: 1, max: 12 }),
  ),
  month: fc.integer({ min: 1, max: 12 }),
  year: fc.constantFrom(2030, 2031, 2032),
  minute: fc.nat(1439),
  oddity: fc.oneof(
    { weight: 12, arbitrary: fc.constant('none' as const) },
    {
      weight: 2,
      arbitrary: fc.constantFrom('blank' as const, 'word' as const, 'short' as const, 'long' as const),
    },
  ),
});
const columns = fc.record({
  order: fc.constantFrom('dayFirst' as const, 'monthFirst' as const),
  separator: fc.constantFrom('/', '.', '-'),
  isPadded: fc.boolean(),
  clock: fc.constantFrom('24' as const, '12' as const, 'points' as const, 'minutes' as const),
  isApart: fc.boolean(),
  isSameDay: fc.boolean(),
  isInOrder: fc.boolean(),
  smallDays: fc.boolean(),
  settled: fc.constantFrom('no', 'no', 'first', 'last', 'behind the head'),
  filler: fc.oneof(
    { weight: 40, arbitrary: fc.constant(0) },
    { weight: 4, arbitrary: fc.constant(450) },
    { weight: 1, arbitrary: fc.constant(3500) },
  ),
  footer: fc.constantFrom('', '', 'Printed', '07:00', 'End;'),
  preamble: fc.constantFrom('', '', 'Made 13/14/2031', 'Start: 02/13/2031 07:00', 'Start;13.02.2031 07:00'),
  said: fc.constantFrom('no', 'no', 'no', 'rightly', 'wrongly'),
  rows: fc.array(dayCells, { minLength: 1, maxLength: 14 }),
});
type DateColumn = Parameters<Parameters<typeof columns.map>[0]>[0];

const two = (n: number): string => String(n).padStart(2, '0');
const DAYS_IN = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** A file whose dates have the year last, and the instants that its good rows mean. */
function dateFile(column: DateColumn): { text: string; truth: Map<number, number>; rows: number } {
  const { order, separator, isPadded, isApart, clock } = column;
  const shown = (n: number): string => (isPadded ? two(n) : String(n));
  const write = (at: number): [string, string] => {
    const date = new Date(at);
    const [d, m, y] = [date.getUTCDate(), date.getUTCMonth() + 1, date.getUTCFullYear()];
    const [h, mi] = [date.getUTCHours(), date.getUTCMinutes()];
    const pair = order === 'dayFirst' ? [d, m] : [m, d];
    const clocks = {
      '24': `${two(h)}:${two(mi)}:00`,
      '12': `${h % 12 || 12}:${two(mi)} ${h < 12 ? 'AM' : 'PM'}`,
      points: `${two(h)}.${two(mi)}`,
      minutes: `${two(h)}:${two(mi)}`,
    };
    return [`${pair.map(shown).join(separator)}${separator}${y}`, clocks[clock]];
  };
  const cells = (at: number): string => write(at).join(isApart ? ';' : ' ');
  const good = column.rows.map(({ day, month, year, minute, oddity }, i) => {
    const first = column.rows[0];
    const [m, y] = column.isSameDay ? [first.month, first.year] : [month, year];
    const d = Math.min(column.smallDays ? ((day - 1) % 12) + 1 : day, DAYS_IN[m - 1]);
    return {
      at: Date.UTC(y, m - 1, column.isSameDay ? Math.min(first.day, d) : d, 0, minute),
      oddity,
      value: i,
    };
  });
  const settling = { at: Date.UTC(2031, 1, 13, 7, 7), oddity: 'none' as const, value: 99 };
  const filled = Array.from({ length: column.filler }, (_, i) => ({
    at: Date.UTC(2031, 3, 5, 0, i % 1440),
    oddity: 'none' as const,
    value: 1,
  }));
  const all = {
    no: [...good, ...filled],
    first: [settling, ...good, ...filled],
    last: [...good, settling],
    'behind the head': [...good, ...filled, settling],
  }[column.settled] as typeof good;
  if (column.isInOrder) all.sort((a, b) => a.at - b.at);
  const truth = new Map<number, number>();
  const lines = all.map(({ at, oddity, value }) => {
    const blank = isApart ? ';' : '';
    if (oddity === 'blank') return `${blank};${value}`;
    if (oddity === 'word') return `${isApart ? 'no time;' : 'no time'};${value}`;
    if (oddity === 'short') return cells(at);
    if (oddity === 'long') return `${cells(at)};${value};1`;
    truth.set(at, value);
    return `${cells(at)};${value}`;
  });
  const header = `${isApart ? 'Date;Time' : 'Time'};ICP (mmHg)`;
  const text = [column.preamble, header, ...lines, column.footer].filter((line) => line !== '').join('\n');
  return { text, truth, rows: lines.length };
}

describe('a column of dates whose year stands last', () => {
  test('is read as it was meant, or refused: never with day and month the other way round', async () => {
    const count = { read: 0, refused: 0 };
    await fc.assert(
      fc.asyncProperty(columns, async (column) => {
        const { text, truth } = dateFile(column);
        const other = column.order === 'dayFirst' ? 'monthFirst' : 'dayFirst';
        const order = { no: undefined, rightly: column.order, wrongly: other }[column.said] as
          | DateColumn['order']
          | undefined;
        const file = { name: 'a.csv', bytes: Buffer.from(text), rows: 0, footers: 0 };
        const [outcome] = await read([file], order ? { columns: { time: { order } } } : {});
        if (!outcome.recording) {
          count.refused++;
          expect(outcome.problem).toMatch(/\w/);
          return;
        }
        count.read++;
        // Whoever says the wrong order gets it, where the dates allow it.
        if (column.said === 'wrongly') return;
        const { times } = rawSignal(outcome.recording, 'icp');
        expect([...times].filter((t) => !truth.has(t)).map((t) => new Date(t).toISOString())).toEqual([]);
      }),
      seeded(2000),
    );
    // Both have to come, or the property would be empty.
    expect(count.read).toBeGreaterThan(300);
    expect(count.refused).toBeGreaterThan(300);
  });
});

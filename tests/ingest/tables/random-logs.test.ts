import { Buffer } from 'node:buffer';
import { gzipSync } from 'node:zlib';
import fc from 'fast-check';
import iconv from 'iconv-lite';
import { expect, test } from 'vitest';
import { seeded } from '../support.js';
import { read } from './support.js';

/** How a made-up file is written. */
interface Dialect {
  readonly delimiter: ',' | ';' | '\t' | '|';
  readonly decimal: '.' | ',';
  readonly end: '\n' | '\r\n';
  readonly encoding: 'utf-8' | 'utf16le' | 'windows-1252';
  readonly time: 'iso' | 'dotted' | 'american' | 'apart';
  readonly hasPreamble: boolean;
  readonly saysSeparator: boolean;
  readonly hasUnitsRow: boolean;
  readonly packed: boolean;
}

const dialects: fc.Arbitrary<Dialect> = fc.record({
  delimiter: fc.constantFrom(',', ';', '\t', '|'),
  decimal: fc.constantFrom('.', ','),
  end: fc.constantFrom('\n', '\r\n'),
  encoding: fc.constantFrom('utf-8', 'utf16le', 'windows-1252'),
  time: fc.constantFrom('iso', 'dotted', 'american', 'apart'),
  hasPreamble: fc.boolean(),
  saysSeparator: fc.boolean(),
  hasUnitsRow: fc.boolean(),
  packed: fc.boolean(),
});

/** Whole seconds on days whose number cannot be a month, so that each column settles itself. */
const instants = fc
  .tuple(fc.integer({ min: 13, max: 27 }), fc.integer({ min: 0, max: 86_399 }))
  .map(([day, second]) => Date.UTC(2031, 1, day) + second * 1000);
const orNull = <T>(arbitrary: fc.Arbitrary<T>): fc.Arbitrary<T | null> => fc.option(arbitrary, { nil: null });
const delays = orNull(fc.integer({ min: 0, max: 40_000 }).map((seconds) => seconds * 1000));

const alarms = fc.uniqueArray(
  fc.record({
    patient: orNull(fc.constantFrom('7', '007', 'Ä 1')),
    bed: fc.constantFrom('4', '5', 'B "2"'),
    onset: instants,
    parameter: fc.constantFrom('ICP', 'CPP', 'ABP mean', 'Asystolie "ü"'),
    limit: orNull(fc.integer({ min: -20, max: 1500 }).map((tenths) => tenths / 10)),
    side: orNull(fc.constantFrom('upper', 'lower')),
    priority: orNull(fc.constantFrom('high', 'medium', 'low')),
    acknowledged: delays,
    ended: delays,
    message: orNull(fc.constantFrom('Grüße; aus, Bett|4', 'two\nlines', 'tab\there')),
  }),
  { minLength: 1, maxLength: 12, selector: (alarm) => JSON.stringify(alarm) },
);
const KEYS = [
  'patient',
  'bed',
  'onset',
  'parameter',
  'limit',
  'side',
  'priority',
  'acknowledged',
  'ended',
  'message',
] as const;
const HEADERS: Readonly<Record<(typeof KEYS)[number], string>> = {
  patient: 'Patient',
  bed: 'Bed',
  onset: 'Onset',
  parameter: 'Parameter',
  limit: 'Limit (mmHg)',
  side: 'Direction',
  priority: 'Priority',
  acknowledged: 'Acknowledged at',
  ended: 'Alarm end',
  message: 'Message',
};

function written(ms: number, time: Dialect['time']): string {
  const [year, month, day, clock] = new Date(ms).toISOString().slice(0, 19).split(/[-T]/);
  if (time === 'dotted') return `${day}.${month}.${year} ${clock}`;
  return time === 'american' ? `${month}/${day}/${year} ${clock}` : `${year}-${month}-${day} ${clock}`;
}

test('a random alarm log in a random dialect reads back equal, whatever the order of rows and columns', async () => {
  await fc.assert(
    fc.asyncProperty(
      alarms,
      dialects,
      fc.shuffledSubarray([...KEYS], { minLength: KEYS.length }),
      async (log, dialect, order) => {
        const { delimiter, decimal, end, encoding, time } = dialect;
        const quoted = (cell: string): string =>
          /["\n\r]/.test(cell) || cell.includes(delimiter) ? `"${cell.replaceAll('"', '""')}"` : cell;
        const line = (cells: readonly string[]): string => cells.map(quoted).join(delimiter) + end;
        const isApart = time === 'apart';
        const headers = order.map((key) => (key === 'limit' && dialect.hasUnitsRow ? 'Limit' : HEADERS[key]));
        const body = log.map((alarm) => {
          const cells = order.map((key): string => {
            const value = alarm[key];
            if (value === null) return '';
            if (key === 'limit') return String(value).replace('.', decimal);
            if (key === 'onset') return written(alarm.onset, time).slice(isApart ? 11 : 0);
            if (key === 'acknowledged' || key === 'ended') return written(alarm.onset + Number(value), time);
            return String(value);
          });
          return line(isApart ? [...cells, written(alarm.onset, time).slice(0, 10)] : cells);
        });
        const text = [
          dialect.saysSeparator ? `sep=${delimiter}${end}` : '',
          dialect.hasPreamble ? `Lantern Bay (invented)${end}Größe${delimiter}3${end}` : '',
          line(isApart ? [...headers, 'Date'] : headers),
          dialect.hasUnitsRow
            ? line([...order.map((key) => (key === 'limit' ? 'mmHg' : '')), ...(isApart ? [''] : [])])
            : '',
          ...body,
        ].join('');
        const bytes = iconv.encode(text, encoding);
        const table = await read('alarms', dialect.packed ? gzipSync(bytes) : Buffer.from(bytes));
        expect(table.setAside).toEqual([]);
        expect(
          table.rows.map(({ onsetUtcMs, acknowledgedUtcMs, endedUtcMs, ...row }) => ({
            patient: row.patient,
            bed: row.bed,
            onset: onsetUtcMs,
            parameter: row.parameter.text,
            limit: row.limit?.value ?? null,
            side: row.side,
            priority: row.priority,
            acknowledged: acknowledgedUtcMs === null ? null : acknowledgedUtcMs - onsetUtcMs,
            ended: endedUtcMs === null ? null : endedUtcMs - onsetUtcMs,
            message: row.message,
          })),
        ).toEqual(log);
      },
    ),
    seeded(400),
  );
});

import { describe, expect, it, test } from 'vitest';
import type { DecisionRow } from '../../../src/ingest/tables/overrides.js';
import { readOverrides, refuseContradictions } from '../../../src/ingest/tables/read-overrides.js';
import type { TableSettings } from '../../../src/ingest/tables/table-settings.js';
import { problemOf } from '../support.js';
import { fileOf, iso, tableSettings } from './support.js';

const HEADER = 'patient,channel,rule,start,end,grade,direction,evidence,decidedBy,decision,reviewer';
const copy = (...rows: string[]): string => `${[HEADER, ...rows].join('\r\n')}\r\n`;
const row = (
  decision: string,
  reviewer: string,
  more: Partial<Record<'patient' | 'channel' | 'start' | 'end' | 'direction', string>> = {},
): string => {
  const { patient = '007', channel = 'icp', direction = '' } = more;
  const { start = '2031-02-12T02:10:04+01:00', end = '2031-02-12T02:10:09+01:00' } = more;
  return `${patient},${channel},briefSpike,${start},${end},removed,${direction},"MAP rose by 12 mmHg",,${decision},${reviewer}`;
};

const read = (text: string | Uint8Array, more: Partial<TableSettings> = {}) =>
  readOverrides(fileOf(text), tableSettings({ zone: 'Europe/Oslo', ...more }));
const why = (text: string, more: Partial<TableSettings> = {}): Promise<string> =>
  problemOf(() => read(text, more));

const plain = ({ patient, channel, start, end, decision, direction, reviewer, line }: DecisionRow) =>
  [patient, channel, iso(start), iso(end), decision, direction, reviewer, line] as const;

describe('a reviewed copy', () => {
  it('counts the rows whose decision is filled in, and passes over the others', async () => {
    const table = await read(copy(row('', ''), row('keep', 'AB'), row('', 'AB'), row('-', '')));
    expect(table.rows.map(plain)).toEqual([
      ['007', 'icp', '2031-02-12T01:10:04Z', '2031-02-12T01:10:09Z', 'keep', null, 'AB', 3],
    ]);
    expect([table.rowsRead, table.passedOver, table.setAside]).toEqual([4, 3, []]);
  });

  it('may hold rows of a person, with the cells that matter', async () => {
    const table = await read(copy('9,MAP,,2031-02-12 02:00,2031-02-12 02:05:30,,,,,Remove, Dr. B '));
    expect(table.rows.map(plain)).toEqual([
      ['9', 'map', '2031-02-12T01:00:00Z', '2031-02-12T01:05:30Z', 'remove', null, 'Dr. B', 2],
    ]);
  });

  it('is read as spreadsheets save it again', async () => {
    const semicolons = copy(
      row('keep', 'AB'),
      row('suspect', 'Å', { direction: 'Up' }),
      ',,,,,,,,,,',
    ).replaceAll(',', ';');
    const windows = Uint8Array.from([...semicolons].map((c) => c.charCodeAt(0)));
    const { rows, delimiter, rowsRead } = await read(windows);
    expect([delimiter, rowsRead]).toEqual([';', 2]);
    expect(rows.map(plain).map(([, , , , ...rest]) => rest)).toEqual([
      ['keep', null, 'AB', 2],
      ['suspect', 'up', 'Å', 3],
    ]);
    const local = copy(row('keep', 'AB', { start: '13.02.2031 02:10:04', end: '13.02.2031 02:10:09' }));
    expect((await read(local)).rows.map(({ start }) => iso(start))).toEqual(['2031-02-13T01:10:04Z']);
  });

  it('takes off the quote that keeps a spreadsheet from running a cell', async () => {
    expect((await read(copy(row('keep', "'-x", { patient: "'=7" })))).rows).toMatchObject([
      { patient: '=7', reviewer: '-x' },
    ]);
  });

  it('is not asked about rows without a decision, whatever they hold', async () => {
    const spoilt = row('', '', { start: 'soon', channel: 'x' });
    expect(
      (await read(copy(row('keep', 'A'), row('keep', 'A', { patient: '8' }), spoilt))).rows,
    ).toHaveLength(2);
  });
});

it('says so where nobody decided anything', async () => {
  const { warnings } = await read(copy(row('', '')));
  expect(warnings).toEqual(['No row holds a decision, so that nothing changes.']);
  expect((await read(copy())).warnings).toEqual(['the table has a header and no rows (line 1).']);
});

describe('a decision that cannot be used is refused with its place', () => {
  test.each([
    [
      row('kep', 'AB'),
      'column "decision": "kep" is none of keep, remove and suspect. Did you mean "keep"? Correct the cell.',
    ],
    [
      row('removed', 'AB'),
      'column "decision": "removed" is none of keep, remove and suspect. Did you mean "remove"? Correct the cell.',
    ],
    [row('yes', 'AB'), 'column "decision": "yes" is none of keep, remove and suspect. Correct the cell.'],
    [
      row('keep', ''),
      'column "reviewer": the decision names no reviewer. A decision is somebody\'s: write the name or initials of who decided into the column "reviewer".',
    ],
    [row('keep', 'AB', { patient: '' }), 'column "patient": it is blank. Fill in the patient.'],
    [
      row('keep', 'AB', { channel: 'ipc' }),
      'column "channel": "ipc" is none of icp, icpDrain and map. Did you mean "icp"? Correct the cell.',
    ],
    [row('keep', 'AB', { channel: '' }), 'column "channel": it is blank. Fill in one of icp, icpDrain, map.'],
    [
      row('keep', 'AB', { channel: 'CPP' }),
      'column "channel": "CPP" is a channel that no figure rests on by itself. Decide on icp or map.',
    ],
    [
      row('suspect', 'AB'),
      'column "direction": a suspect stretch needs a direction. Write "down" (the values may be too low: left out of the figures) or "up" (too high: they stay in).',
    ],
    [
      row('suspect', 'AB', { direction: 'upp' }),
      'column "direction": "upp" is none of down and up. Did you mean "up"? Correct the cell.',
    ],
    [
      row('keep', 'AB', { end: '2031-02-12T02:10:00+01:00' }),
      'column "end": "2031-02-12T02:10:00+01:00" is before "start", "2031-02-12T02:10:04+01:00". Correct the cell, or look at the clocks that the two times come from.',
    ],
    [
      row('keep', 'AB', { start: 'soon' }),
      'column "start": "soon" is no time that can be read. Times are expected as 2031-02-11 02:10:00, with or without an offset.',
    ],
    [
      '007,icp,start,end,keep,AB',
      '6 cells where the header has 11. Each row needs as many cells as the header; decimal commas or a delimiter at the end of the rows make more.',
    ],
  ])('%s', async (spoilt, sentence) => {
    const good = row('keep', 'AB', { patient: '8' });
    const said = await why(copy(good, good.replace('8,', '9,'), spoilt));
    expect(said.replace(/^a\.csv, line 4(, |: )/, '')).toBe(sentence);
  });

  test.each([
    [
      'decision',
      'a.csv, line 1: there is no column for the decision. A header such as "decision" is expected;',
    ],
    [
      'reviewer',
      'a.csv, line 1: there is no column for the reviewer. A header such as "reviewer" is expected;',
    ],
  ])('there has to be a column %s', async (name, sentence) => {
    expect(await why(copy(row('keep', 'AB')).replace(name, 'x'))).toContain(sentence);
  });

  it('nothing stands above the header, as where a spreadsheet sorted it among the rows', async () => {
    const [header, ...rows] = copy(row('keep', 'AB'), row('', '')).trimEnd().split('\r\n');
    expect(await why([rows[0], header, rows[1]].join('\n'))).toBe(
      'a.csv, line 1: the line stands above the header, and may be a decision that would be lost. Put the header first: sort rows without it, or take the line out.',
    );
    expect((await read(`sep=,\n${[header, ...rows].join('\n')}`)).rows).toHaveLength(1);
  });

  it('asks for the order of dates that nothing settles', async () => {
    const text = copy(row('keep', 'AB', { start: '03/04/2031 02:10', end: '03/04/2031 02:11' }));
    expect(await why(text)).toContain(
      'Say which in the pipeline file, as columns: {start: {order: dayFirst}}',
    );
    const said = { start: { order: 'dayFirst' }, end: { order: 'dayFirst' } } as const;
    expect((await read(text, { columns: said })).rows.map(({ start }) => iso(start))).toEqual([
      '2031-04-03T00:10:00Z',
    ]);
  });
});

describe('decisions on the same time', () => {
  const rowsOf = async (...rows: string[]) => (await read(copy(...rows))).rows;
  const later = { start: '2031-02-12T02:10:08+01:00', end: '2031-02-12T02:10:20+01:00' };

  it('are refused where they contradict each other, both lines named', async () => {
    const rows = await rowsOf(row('remove', 'AB', later), row('', ''), row('keep', 'CD'));
    expect(() => refuseContradictions(rows)).toThrow(
      'a.csv, line 2: "remove" here and "keep" on line 4 are about the same time of icp of patient "007". Only one can hold: take out the other, or change its start or end.',
    );
    const other = rows.slice(1).map((one) => ({ ...one, file: 'b.csv' }));
    expect(() => refuseContradictions([rows[0], ...other])).toThrow(
      '"keep" here and "remove" on line 2 of a.csv',
    );
    const ways = await rowsOf(
      row('suspect', 'AB', { direction: 'up' }),
      row('suspect', 'AB', { direction: 'down' }),
    );
    expect(() => refuseContradictions(ways)).toThrow('"suspect, up" here and "suspect, down" on line 3');
  });

  it('may say the same twice, meet, or be about different channels and patients', async () => {
    const meets = { start: '2031-02-12T02:10:09+01:00', end: '2031-02-12T02:10:20+01:00' };
    refuseContradictions(
      await rowsOf(
        row('keep', 'AB'),
        row('keep', 'CD'),
        row('remove', 'AB', meets),
        row('remove', 'AB', { channel: 'map' }),
        row('remove', 'AB', { patient: '7' }),
      ),
    );
  });
});

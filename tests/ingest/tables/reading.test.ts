import { Buffer } from 'node:buffer';
import { gzipSync } from 'node:zlib';
import iconv from 'iconv-lite';
import { describe, expect, test } from 'vitest';
import { asides, iso, read, whyRefused } from './support.js';

const HEADER = 'Bed,Onset,Parameter,Acknowledged\n';

describe('a log in the dialects of exports', () => {
  const rows = [
    ['Bett', 'Beginn', 'Parameter', 'Limit (kPa)', 'Quittiert', 'Bemerkung'],
    ['4', '13.02.2031 02:10:00', 'ICP', '2,9', '13.02.2031 02:11:30', 'Geräusch'],
    ['5', '14.02.2031 02:10:00', 'ICP', '3', '', 'für später'],
  ];
  const text = (delimiter: string, end = '\r\n'): string =>
    rows.map((row) => row.join(delimiter) + end).join('');
  const texts = rows.map((row) => row.map((cell) => cell.replace(',', '.')));

  test.each<[string, Uint8Array | string]>([
    ['semicolons, decimal commas, Latin-1', iconv.encode(text(';'), 'latin1')],
    ['tabs, UTF-16', iconv.encode(text('\t'), 'utf16le')],
    ['UTF-8 with a mark', `\ufeff${text(';', '\n')}`],
    ['gzip', gzipSync(Buffer.from(text('|', '\n')))],
    ['commas with quotes', rows.map((row) => `${row.map((cell) => `"${cell}"`).join(',')}\n`).join('')],
    ['commas with decimal points', texts.map((row) => `${row.join(',')}\n`).join('')],
    ['a line that says the separator', `sep=;\r\n${text(';')}`],
    ['lines above the header', `Alarmprotokoll\nStation;Lantern Bay\n\n${text(';')}`],
    ['old line ends', text(';', '\r')],
  ])('is read alike: %s', async (_, content) => {
    const { rows: alarms, leftAlone } = await read('alarms', content, { zone: 'Europe/Oslo' });
    expect(
      alarms.map(({ bed, onsetUtcMs, acknowledgedUtcMs, limit }) => [
        bed,
        iso(onsetUtcMs),
        iso(acknowledgedUtcMs),
        limit && [Number(limit.value?.toFixed(4)), limit.unit],
      ]),
    ).toEqual([
      ['4', '2031-02-13T01:10:00Z', '2031-02-13T01:11:30Z', [21.7518, 'mm[Hg]']],
      ['5', '2031-02-14T01:10:00Z', null, [22.5018, 'mm[Hg]']],
    ]);
    expect(leftAlone).toEqual([{ header: 'Bemerkung', why: 'none of the names known here' }]);
  });

  test('takes the unit from a row under the header', async () => {
    const { rows: alarms, columns } = await read(
      'alarms',
      'Bed,Onset,Parameter,Limit\n,,,(cmH2O)\n4,2031-02-13 02:10:00,ICP,30\n',
    );
    expect(alarms[0].limit?.value).toBeCloseTo(22.0668, 3);
    expect(columns.find(({ key }) => key === 'limit')).toMatchObject({ header: 'Limit', unit: 'cm[H2O]' });
  });
});

describe('the columns', () => {
  test('are what the pipeline file says, whatever their names', async () => {
    const content = 'Onset,Began,Place,What,Bed\n2031-02-13 01:00:00,2031-02-13 02:10:00,4,ICP,9\n';
    const { rows, leftAlone, columns } = await read('alarms', content, {
      columns: { onset: 'Began', bed: { header: 'Place' }, parameter: 'What' },
    });
    expect(rows).toMatchObject([
      { bed: '4', onsetUtcMs: Date.UTC(2031, 1, 13, 2, 10), parameter: { channel: 'icp' } },
    ]);
    expect(leftAlone.map(({ header }) => header)).toEqual(['Onset', 'Bed']);
    expect(columns[0]).toEqual({
      header: 'Place',
      key: 'bed',
      unit: null,
      why: 'named in the pipeline file',
    });
  });

  test.each([
    [
      'one that is needed is not there',
      'Bed,Parameter\n4,ICP\n',
      {},
      'a.csv, line 1: there is no column for the onset. A header such as "Onset" is expected; the columns are "Bed", "Parameter". Name it in the pipeline file as columns: {onset: ...}.',
    ],
    [
      'neither of two is there',
      'Onset,Parameter\n2031-02-13 02:10:00,ICP\n',
      {},
      'a.csv, line 1: there is no column for the patient or the bed. A header such as "Patient" or "Bed" is expected; the columns are "Onset", "Parameter". Name it in the pipeline file as columns: {patient: ...}.',
    ],
    [
      'two could be it',
      'Bed,Onset,Alarm start,Parameter\n4,x,x,ICP\n',
      {},
      'a.csv, line 1: "Onset", "Alarm start" could each be the onset. Name the right one in the pipeline file, as columns: {onset: "Onset"}.',
    ],
    [
      'the one that was named is not there',
      'Bed,Onset,Parameter\n4,x,ICP\n',
      { columns: { ended: 'Off' } },
      'a.csv, line 1: there is no column "Off", which the pipeline file names as the end. The columns are "Bed", "Onset", "Parameter".',
    ],
    [
      'one is named for two things',
      'Bed,Onset,Parameter\n4,x,ICP\n',
      { columns: { onset: 'Onset', ended: 'Onset' } },
      'a.csv, line 1: the column "Onset" would be both the onset and the end. Name another one in the pipeline file.',
    ],
    [
      'the pipeline file misspells a key',
      'Bed,Onset,Parameter\n4,x,ICP\n',
      { columns: { onzet: 'Onset' } },
      'a.csv, line 1: "onzet" is no column of an alarm log. Its columns are patient, bed, ward, onset, parameter, side, limit, limitUnit, priority, acknowledged, ended, message.',
    ],
    ['the file is empty', '', {}, 'a.csv: the file is empty. Export it again.'],
  ])('are refused where %s', async (_, content, more, message) => {
    expect(await whyRefused('alarms', content, more)).toBe(message);
  });
});

describe('the order of day and month', () => {
  const log = (...rows: [string, string][]): string =>
    HEADER + rows.map(([onset, ack]) => `4,${onset},ICP,${ack}\n`).join('');

  test('is settled by each column for itself', async () => {
    const content = log(['03/04/2031 02:10', '04/03/2031 02:11'], ['13/04/2031 02:10', '04/13/2031 02:11']);
    const { rows, columns } = await read('alarms', content);
    expect(
      rows.map(({ onsetUtcMs, acknowledgedUtcMs }) => [iso(onsetUtcMs), iso(acknowledgedUtcMs)]),
    ).toEqual([
      ['2031-04-03T02:10:00Z', '2031-04-03T02:11:00Z'],
      ['2031-04-13T02:10:00Z', '2031-04-13T02:11:00Z'],
    ]);
    expect(columns.map(({ key, why }) => [key, why])).toContainEqual([
      'acknowledged',
      'by its name, month first, since line 3 holds 04/13/2031 02:11',
    ]);
  });

  test('is looked for in the whole column, however far down', async () => {
    const many = Array.from({ length: 900 }, (_, i): [string, string] => [
      `03/04/2031 02:10:${10 + (i % 50)}.${i}`,
      '',
    ]);
    const { rows } = await read('alarms', log(...many, ['04/25/2031 02:10', '']));
    expect(iso(rows[0].onsetUtcMs)).toBe('2031-03-04T02:10:10Z');
    expect(rows.length).toBe(901);
  });

  test('is not guessed from another column', async () => {
    const content = log(['13/04/2031 02:10', '03/05/2031 02:11'], ['14/04/2031 02:10', '04/05/2031 02:11']);
    expect(await whyRefused('alarms', content)).toBe(
      'a.csv, line 1, column "Acknowledged": the dates can be read two ways, and no row settles it: "03/05/2031 02:11" (line 2) to "04/05/2031 02:11" (line 3) is 3 May 2031 02:11:00 to 4 May 2031 02:11:00 with the day first, and 5 March 2031 02:11:00 to 5 April 2031 02:11:00 with the month first. Say which in the pipeline file, as columns: {acknowledged: {order: dayFirst}} or {order: monthFirst}.',
    );
  });

  test.each([
    ['for the column', { columns: { acknowledged: { order: 'dayFirst' } } }],
    ['for all columns', { order: 'dayFirst' }],
  ] as const)('is taken from the pipeline file: %s', async (_, more) => {
    const { rows } = await read('alarms', log(['13/04/2031 02:10', '03/05/2031 02:11']), more);
    expect(iso(rows[0].acknowledgedUtcMs)).toBe('2031-05-03T02:11:00Z');
  });

  test('needs no settling where both readings are the same', async () => {
    const { rows } = await read('alarms', log(['11/11/2031 02:10', '']));
    expect(iso(rows[0].onsetUtcMs)).toBe('2031-11-11T02:10:00Z');
  });

  test('is refused where a column mixes both', async () => {
    const content = log(['13/04/2031 02:10', ''], ['04/14/2031 02:10', '']);
    expect(await whyRefused('alarms', content)).toBe(
      'a.csv, line 3, column "Onset": "04/14/2031 02:10" does not have the day first, as the other dates do (day first, since line 2 holds 13/04/2031 02:10). Two ways of writing dates are mixed: split the file, or look at columns: {onset: {order: ...}}.',
    );
  });

  test('of dates without a time of day is asked for with days', async () => {
    expect(await whyRefused('cohort', 'ID,Age,Injury\n7,40,03/04/2031\n8,41,05/04/2031\n')).toBe(
      'a.csv, line 1, column "Injury": the dates can be read two ways, and no row settles it: "03/04/2031" (line 2) to "05/04/2031" (line 3) is 3 April 2031 to 5 April 2031 with the day first, and 4 March 2031 to 4 May 2031 with the month first. Say which in the pipeline file, as columns: {injury: {order: dayFirst}} or {order: monthFirst}.',
    );
  });
});

describe('times', () => {
  const oslo = { zone: 'Europe/Oslo' };
  const onsets = async (content: string, more = {}): Promise<(string | null)[]> =>
    (await read('alarms', content, more)).rows.map(({ onsetUtcMs }) => iso(onsetUtcMs));

  test('may stand in two columns, and the date is left alone where it is not needed', async () => {
    expect(await onsets('Date,Time,Bed,Parameter\n2031-02-13,02:10:00,4,ICP\n')).toEqual([
      '2031-02-13T02:10:00Z',
    ]);
    const { leftAlone } = await read(
      'alarms',
      'Date,Time,Bed,Parameter\n2031-02-13,2031-02-13 02:10:00,4,ICP\n',
    );
    expect(leftAlone).toEqual([{ header: 'Date', why: 'the times beside it hold the date already' }]);
  });

  test('may count days as a spreadsheet does, or seconds since 1970', async () => {
    expect(await onsets('Time,Bed,Parameter\n47892.09028,4,ICP\n')).toEqual(['2031-02-13T02:10:00Z']);
    expect(await onsets('Time,Bed,Parameter\n1928715000,4,ICP\n', oslo)).toEqual(['2031-02-13T02:10:00Z']);
  });

  test.each([
    [
      'plain numbers',
      'Time,Bed,Parameter\n12,4,ICP\n',
      'a.csv, line 1, column "Time": the times are plain numbers ("12"), and nothing says of what. Say what they are in the pipeline file, as columns: {onset: {form: spreadsheetDays}}, or form: epochSeconds or epochMilliseconds.',
    ],
    [
      'times since a start',
      'Time (s),Bed,Parameter\n12,4,ICP\n',
      'a.csv, line 1, column "Time (s)": the times count from a start, and a table needs the date and the time of day. Export it with dates.',
    ],
    [
      'years of two digits',
      'Time,Bed,Parameter\n13.02.31 02:10,4,ICP\n',
      'a.csv, line 2, column "Time": the year in "13.02.31 02:10" has two digits, so it may be a day or a month as well. Export the dates with four-digit years.',
    ],
  ])('are refused as %s', async (_, content, message) => {
    expect(await whyRefused('alarms', content)).toBe(message);
  });

  test('in the hour that the clock shows twice are taken for the first, with a warning', async () => {
    const { rows, warnings } = await read(
      'alarms',
      `${HEADER}4,2031-10-26 02:50,ICP,\n4,2031-10-26 02:40,CPP,\n5,2031-10-26 02:50,ICP,2031-10-26 02:05\n`,
      oslo,
    );
    expect(
      rows.map(({ onsetUtcMs, acknowledgedUtcMs }) => [iso(onsetUtcMs), iso(acknowledgedUtcMs)]),
    ).toEqual([
      ['2031-10-26T00:50:00Z', null],
      ['2031-10-26T00:40:00Z', null],
      // It follows the onset, so it is the second pass.
      ['2031-10-26T00:50:00Z', '2031-10-26T01:05:00Z'],
    ]);
    expect(warnings).toEqual([
      'column "Onset": the clock shows the hour from 02:00 on 26 October 2031 twice, and nothing says which one is meant; it is taken for the first (line 2 and 2 more rows).',
    ]);
  });

  test('in the hour that the clocks go forward over set the row aside', async () => {
    const table = await read(
      'alarms',
      `${HEADER}4,2031-03-30 02:30,ICP,\n4,2031-03-30 03:30,ICP,\n5,2031-03-30 01:30,ICP,\n`,
      oslo,
    );
    expect(asides(table)).toEqual([
      [
        2,
        'clock',
        'column "Onset": "2031-03-30 02:30" does not exist in Europe/Oslo: the clocks went forward over it',
      ],
    ]);
    expect(table.rows.map(({ onsetUtcMs }) => iso(onsetUtcMs))).toEqual([
      '2031-03-30T01:30:00Z',
      '2031-03-30T00:30:00Z',
    ]);
  });

  test('with an offset, or a header that says UTC, need no zone', async () => {
    expect(await onsets('Onset,Bed,Parameter\n2031-10-26T02:30:00+01:00,4,ICP\n', oslo)).toEqual([
      '2031-10-26T01:30:00Z',
    ]);
    expect(await onsets('Onset (UTC),Bed,Parameter\n2031-10-26 02:30,4,ICP\n', oslo)).toEqual([
      '2031-10-26T02:30:00Z',
    ]);
  });

  test('of day without a date are taken for the first after the onset, with a warning', async () => {
    const table = await read(
      'alarms',
      `Date,Time,Bed,Parameter,Ack\n2031-02-12,23:58,4,ICP,00:03\n2031-02-13,02:10,4,ICP,02:10\n2031-02-13,04:10,4,ICP,04:09\n`,
    );
    expect(table.rows.map(({ acknowledgedUtcMs }) => iso(acknowledgedUtcMs))).toEqual([
      '2031-02-13T00:03:00Z',
      '2031-02-13T02:10:00Z',
    ]);
    expect(table.warnings).toEqual([
      'column "Ack" holds times of day without a date: each is taken for the first at or after "Time" (line 2 and 1 more row).',
    ]);
    expect(asides(table)).toEqual([
      [
        4,
        'unreadable',
        'column "Ack": "04:09" has no date, and lies before "Time" or more than 12 h behind it',
      ],
    ]);
  });
});

describe('rows', () => {
  test('are set aside each with its line, kind and reason', async () => {
    const table = await read(
      'alarms',
      [
        'Bed,Onset,Parameter,Acknowledged,Priority',
        '4,2031-02-13 02:10,ICP,,high',
        '4,,ICP,,high',
        '4,2031-02-13 02:11,ICP',
        '4,2031-02-13 02:12,ICP,2031-02-13 02:11,high',
        ',2031-02-13 02:13,ICP,,high',
        '4,2031-02-13 02:14,-,,high',
        '4,2031-02-30 02:15,ICP,,purple',
        'Bed,Onset,Parameter,Acknowledged,Priority',
        '4,2031-02-13 02:10,ICP,,high',
        '',
        ...Array.from({ length: 10 }, (_, i) => `5,2031-02-13 02:${20 + i},ICP,,low`),
        '5,2031-02-13 03:00,HR,---,?',
        'End of report',
      ].join('\n'),
    );
    expect(asides(table)).toEqual([
      [3, 'unreadable', 'column "Onset": it is blank'],
      [4, 'cells', '3 cells where the header has 5'],
      [5, 'order', 'column "Acknowledged": "2031-02-13 02:11" is before "Onset", "2031-02-13 02:12"'],
      [6, 'unreadable', 'neither patient nor bed is given'],
      [7, 'unreadable', 'neither parameter nor message is given'],
      [
        8,
        'unreadable',
        'column "Onset": "2031-02-30 02:15" is no time that the calendar has; column "Priority": "purple" is none of high, medium, low',
      ],
      [9, 'footer', 'the header again'],
      [10, 'repeat', 'the same as line 2, and nothing new'],
      [23, 'footer', 'a line behind the data'],
    ]);
    expect(table.rowsRead).toBe(21);
    expect(table.setAside[3].row).toBe(',2031-02-13 02:13,ICP,,high');
    expect(table.rows.at(-1)).toMatchObject({ priority: null, acknowledgedUtcMs: null });
  });

  test('that repeat a row that cannot be used are as bad as that', async () => {
    const good = Array.from({ length: 4 }, (_, i) => `4,2031-02-13 02:1${i},ICP,\n`).join('');
    const table = await read('alarms', `${HEADER}${good}4,x,ICP,\n4,x,ICP,\n`);
    expect(asides(table).map(([line, kind]) => [line, kind])).toEqual([
      [6, 'unreadable'],
      [7, 'unreadable'],
    ]);
  });

  test('most of which are bad refuse the table', async () => {
    expect(await whyRefused('alarms', `${HEADER}4,x,ICP,\n4,y,ICP,\n4,2031-02-13 02:10,ICP,\n`)).toBe(
      'a.csv, line 2: 2 of 3 rows cannot be used, this one first: column "Onset": "x" is no time that can be read. Times are expected as 2031-02-11 02:10:00, with or without an offset.',
    );
  });

  test('under another header refuse the table', async () => {
    expect(
      await whyRefused('alarms', `${HEADER}4,2031-02-13 02:10,ICP,\nBed,Onset,Alarm,Acknowledged\n`),
    ).toBe(
      'a.csv, line 3: another header stands here. Two exports with different columns seem to be joined: split the file here.',
    );
  });

  test('may be none at all: a log of a quiet month', async () => {
    const { rows, rowsRead, warnings, span } = await read('alarms', HEADER);
    expect([rows, rowsRead, span]).toEqual([[], 0, null]);
    expect(warnings).toEqual(['the table has a header and no rows (line 1).']);
  });

  test('behind a quote that is never closed refuse the table', async () => {
    expect(await whyRefused('alarms', `${HEADER}4,2031-02-13 02:10,"ICP,\n`)).toBe(
      'a.csv, line 2: a quote is opened and never closed. Correct the quotes in this row, or export the file again.',
    );
  });

  test('give the first and last time, and counts', async () => {
    const { span, counts } = await read(
      'alarms',
      `${HEADER}4,2031-02-13 02:10,ICP high,2031-02-13 02:40\n4,2031-02-13 02:20,ICP,\n4,2031-02-13 02:20,Asystole,\n`,
    );
    expect([iso(span?.firstUtcMs), iso(span?.lastUtcMs)]).toEqual([
      '2031-02-13T02:10:00Z',
      '2031-02-13T02:40:00Z',
    ]);
    expect(counts).toEqual([
      { what: 'ICP', rows: 2 },
      { what: 'Asystole', rows: 1 },
    ]);
  });
});

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { asideOf, expectAccount, ingestFiles, ingestOne, START, samplesOf, seeded, wall } from './support.js';

/** Rows with 12, 85 and the cells of a third column. */
const wide = (header: string, cells: readonly string[]): string =>
  [
    `Time,ICP (mmHg),MAP (mmHg),${header}`,
    ...cells.map((cell, i) => `${wall(START + 1000 * i)},12,85,${cell}`),
  ].join('\n');

describe('a cell beside the pressures that is no number', () => {
  test.each([
    ['CPP (mmHg)', 'cpp', 'low'],
    ['CPP (mmHg)', 'cpp', '82 *'],
    ['HR', 'hr', 'VVI'],
    ['Temp (°C)', 'temp', 'off'],
    ['SpO2 (%)', 'spo2', 'N.V.'],
    ['RR', 'rr', 'apnoea'],
    ['EtCO2 (mmHg)', 'etco2', 'line off'],
    ['PbtO2 (mmHg)', 'pbto2', 'warming'],
  ] as const)(
    'of "%s" is a missing one, its row is kept, and it is said once',
    async (header, kind, cell) => {
      const outcome = await ingestOne(wide(header, [cell, '40', cell, cell, cell]));
      expect(outcome.problem).toBeNull();
      expectAccount(outcome, { read: 5, used: 5 });
      expect(samplesOf(outcome, 'icp').length).toBe(5);
      expect(samplesOf(outcome, kind)).toEqual([[new Date(START + 1000).toISOString(), 40]]);
      expect(outcome.warnings.filter((words) => words.includes('no number'))).toEqual([
        `a.csv: in 4 rows the cell of "${header}" is no number, as "${cell}": taken as missing there.`,
      ]);
    },
  );

  test('is said of each column and file, one row in the singular', async () => {
    const [outcome] = await ingestFiles(
      {
        'a.csv': `Time,ICP (mmHg),CPP (mmHg),HR\n${wall(START)},12,low,-x\n${wall(START + 1000)},12,70,x`,
        'b.csv': `Time,ICP (mmHg),CPP (mmHg)\n${wall(START + 2000)},12,high`,
      },
      { patient: { id: '7' } },
    );
    expect(outcome.problem).toBeNull();
    expect(outcome.warnings.filter((words) => words.includes('no number'))).toEqual([
      'a.csv: in one row the cell of "CPP (mmHg)" is no number, "low": taken as missing there.',
      'a.csv: in 2 rows the cell of "HR" is no number, as "-x": taken as missing there.',
      'b.csv: in one row the cell of "CPP (mmHg)" is no number, "high": taken as missing there.',
    ]);
  });

  test('does not count where its row is set aside for a pressure or a time, which alone is the reason', async () => {
    const rows = wide('CPP (mmHg)', ['70', 'low', 'low', '70', '70']).split('\n');
    rows[2] = rows[2].replace(',12,', ',x,');
    rows[3] = rows[3].replace(/^[^,]+/, 'noon');
    const outcome = await ingestOne(rows.join('\n'));
    expectAccount(outcome, { read: 5, used: 3 });
    expect(asideOf(outcome)).toEqual([
      'a.csv:3 unreadable: column "ICP (mmHg)": "x" is not a number',
      expect.stringContaining('a.csv:4 unreadable: column "Time": "noon"'),
    ]);
    expect(outcome.warnings.filter((words) => words.includes('taken as missing'))).toEqual([]);
  });

  test('sets its row aside where the row holds nothing else, in an export with a row a value', async () => {
    const outcome = await ingestOne(
      [
        'Time,Parameter,Value,Unit',
        ...[0, 1, 2].flatMap((s) => [
          `${wall(START + 1000 * s)},ICP,12,mmHg`,
          `${wall(START + 1000 * s)},CPP,${s === 1 ? 'low' : '70'},mmHg`,
        ]),
      ].join('\n'),
    );
    expect([outcome.rowsRead, samplesOf(outcome, 'cpp').length]).toEqual([6, 2]);
    expect(asideOf(outcome)).toEqual(['a.csv:5 unreadable: column "CPP": "low" is not a number']);
    expect(samplesOf(outcome, 'icp').length).toBe(3);
  });

  test('leaves the pressures as they are where that column is not there at all, whatever stands in it', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.constantFrom('70', '', 'low', '82 *', '7,5', '1e400', 'N.V.', '--', '0x10'), {
          minLength: 1,
          maxLength: 12,
        }),
        async (cells) => {
          const outcome = await ingestOne(
            wide(
              'CPP (mmHg)',
              cells.map((cell) => `"${cell}"`),
            ),
          );
          const without = await ingestOne(
            ['Time,ICP (mmHg),MAP (mmHg)', ...cells.map((_, i) => `${wall(START + 1000 * i)},12,85`)].join(
              '\n',
            ),
          );
          expectAccount(outcome, { read: cells.length, used: cells.length });
          for (const kind of ['icp', 'map'] as const)
            expect(samplesOf(outcome, kind)).toEqual(samplesOf(without, kind));
        },
      ),
      seeded(60),
    );
  });
});

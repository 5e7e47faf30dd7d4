import { Buffer } from 'node:buffer';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { type ExportFile, findExports } from '../../src/ingest/find-exports.js';
import { groupByPatient } from '../../src/ingest/group-files.js';
import { type Ingested, ingestGroup } from '../../src/ingest/ingest.js';
import { PlainRows } from '../../src/ingest/rows/plain-rows.js';
import { DEFAULT_MISSING, type IngestSettings } from '../../src/ingest/settings.js';
import { settingsWith, wall } from './support.js';

const CASES = fileURLToPath(new URL('../../fixtures/exports/cases/', import.meta.url));

async function ingested(files: readonly ExportFile[], settings: IngestSettings): Promise<Ingested[]> {
  const { groups } = groupByPatient(files, settings);
  return (await Promise.all(groups.map((group) => ingestGroup(group, settings)))).flat();
}

/** The same files by the lane and by the long way; typed arrays are compared bit for bit. */
async function bothWays(
  files: readonly ExportFile[],
  settings: IngestSettings,
): Promise<[Ingested[], Ingested[]]> {
  return [await ingested(files, settings), await ingested(files, { ...settings, hasLane: false })];
}

describe('plain rows by the lane are what they are the long way', () => {
  test.each(readdirSync(CASES).sort())('%s', async (name) => {
    const path = `${CASES}${name}/settings.json`;
    const { missing = [], ...more } = existsSync(path) ? JSON.parse(readFileSync(path, 'utf8')) : {};
    const settings = settingsWith({ ...more, missing: [...DEFAULT_MISSING, ...missing] });
    const [lane, long] = await bothWays(await findExports(['.'], `${CASES}${name}`), settings);
    expect(lane).toEqual(long);
  });

  const row = (i: number, time: string): string =>
    `${time},${10 + (i % 5)}.${i % 10},${i % 13 === 0 ? '' : 80 + (i % 7)},x${i}`;
  const local = (i: number, step: number): string => wall(Date.UTC(2031, 9, 25, 22, 0, i * step));
  /** Files that the lane can take: none names its patient in a column. */
  const FILES = [
    `Time,ICP (mmHg),ABP mean (mmHg),Note\n${Array.from({ length: 60 }, (_, i) => row(i, local(i, 300))).join('\n')}\n`,
    `Time;ICP (kPa);ABP mean (mmHg);Note\r\n${Array.from({ length: 60 }, (_, i) => row(i, local(i, 1)).replaceAll(',', ';').replaceAll('.', ',')).join('\r\n')}\r\n`,
    `Time,ICP (mmHg),ABP mean (mmHg),Note\n${Array.from({ length: 60 }, (_, i) => row(i, `${local(i, 1).replace(' ', 'T')}.${i % 4}5`)).join('\n')}`,
    `Time,ICP (mmHg),ABP mean (mmHg),Note\n${Array.from({ length: 60 }, (_, i) => row(i, `${local(i, 1)}${i < 50 ? '+02:00' : 'Z'}`)).join('\n')}\n`,
    `Epoch (s),ICP (mmHg),ABP mean (mmHg),Note\n${Array.from({ length: 60 }, (_, i) => row(i, String(1_928_000_000 + i))).join('\n')}\n`,
    `Time,ICP (mmHg),ABP mean (mmHg),Note\n${Array.from({ length: 60 }, (_, i) => row(i, local(i, 1).replace(/(\d+)-(\d+)-(\d+)/, '$3.$2.$1'))).join('\n')}\n`,
  ];
  const TOKENS = [
    ',',
    ';',
    '\n',
    '\r\n',
    '"',
    '""',
    '.',
    '-',
    '+',
    ' ',
    '0',
    '9',
    '-0',
    '.5',
    '5.',
    '1e3',
    '-999',
    '---',
    'x',
    '\u00b5',
    '24:00:00',
    '2031-10-26 02:30:00',
    '99999999999999999',
    '1,5',
    'Time,ICP (mmHg),ABP mean (mmHg),Note\n',
    '\n\n',
  ];
  const position = fc.integer({ min: 0, max: 9_999 });
  const edit = fc.record({
    at: position,
    drop: fc.integer({ min: 0, max: 40 }),
    token: fc.constantFrom('', ...TOKENS),
  });

  it('in files that somebody edited, whatever the chunks in which they come', async () => {
    let recordings = 0;
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(...FILES),
        fc.array(edit, { maxLength: 3 }),
        fc.integer({ min: 512, max: 4000 }),
        fc.constantFrom('Europe/Oslo', 'UTC'),
        async (file, edits, chunk, zone) => {
          const text = edits.reduce((all, { at, drop, token }) => {
            const i = Math.floor((at / 10_000) * all.length);
            return all.slice(0, i) + token + all.slice(i + drop);
          }, file);
          const bytes = Buffer.from(text);
          const open = async function* () {
            yield bytes.subarray(0, 512);
            for (let i = 512; i < bytes.length; i += chunk) yield bytes.subarray(i, i + chunk);
          };
          const settings = settingsWith({ zone, missing: ['-999', '---'] });
          const [lane, long] = await bothWays([{ path: 'a.csv', name: 'a.csv', open }], settings);
          if (lane[0].recording) recordings++;
          expect(lane).toEqual(long);
        },
      ),
      { numRuns: 1500, seed: 20310211 },
    );
    expect(recordings).toBeGreaterThan(500);
  });
});

describe('the lane', () => {
  const taken = (text: string): number[] => {
    const rows = {
      problem: null,
      readTime: () => ({ localMs: 0, offsetMs: null }),
      series: [{ channels: [{ decimals: 0 }] }],
      plainInstant: () => 0,
      addRead: () => undefined,
    };
    const channel = { index: 1, conversion: { factor: 1, offset: 0, decimalsLost: 0 } };
    const lane = new PlainRows({
      headers: ['Time', 'ICP', 'Note'],
      columns: { time: { index: 0 }, channels: [channel] },
      delimiter: ',',
      plan: { form: 'epochSeconds' },
      dataLine: 1,
      numbers: { decimal: null },
      missingNumbers: [],
      rows: () => rows,
    } as unknown as ConstructorParameters<typeof PlainRows>[0]);
    const bytes = Buffer.from(`${text}\u0000`, 'latin1');
    return [lane.take(bytes, 0, text.length, 1), lane.lines];
  };

  it.each([
    ['1,12.5,a\n2,,b\n3,-7,\n', 3],
    ['1,12.5,a\n2,x,b\n', 1],
    ['1,12.5,a\n2,12.5,"b"\n', 1],
    ['1,12.5,a\n2,12.5\n', 1],
    ['1,12.5,a\n2,12.5,b,c\n', 1],
    ['1,12.5,a\n\n', 1],
    ['1,12.5,a\n2,12.5,b', 1],
    ['1,+-5,a\n', 0],
    ['1,5.,a\n', 0],
    ['1, 5,a\n', 0],
    [' 1,5,a\n', 0],
    ['1,1234567890123456,a\n', 0],
  ])('takes of %j so many lines: %i', (text, lines) => {
    const [at, n] = taken(text);
    expect(n).toBe(lines);
    expect(text.slice(0, at).split('\n').length - 1).toBe(lines);
  });
});

import { join } from 'node:path';
import { runPipeline } from '../../../src/pipeline/run-pipeline.js';
import type { PatientReportName } from '../../../src/report/report-name.js';
import { folderWith } from '../../support/cistern.js';

/** A cell of a CSV file, quoted. */
const quoted = (text: string): string => `"${text.replaceAll('"', '""')}"`;

/** What a file system takes as a name, as near to the text as it goes; the number keeps it different. */
export const fileName = (text: string, i: number): string => {
  let name = text.replaceAll(/[/\0]/g, '\u2215');
  while (Buffer.byteLength(name) > 200) name = [...name].slice(0, -1).join('');
  return `${i} ${name}.csv`;
};

// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what has to go
const UNSEEN_IN_HEADER = /[\u0000-\u0008\u000e-\u001f\u007f\u200b-\u200f\u2060\ufeff]/g;

/** A cell is read with one kind of line break. */
export const asCell = (text: string): string => text.replaceAll('\r\n', '\n');

/** A header is read without characters that nobody sees, and without white space around it. */
export const asHeader = (text: string): string => asCell(text).replace(UNSEEN_IN_HEADER, '').trim();

const at = (minute: number): string =>
  `2031-02-11 ${20 + Math.floor(minute / 60)}:${String(minute % 60).padStart(2, '0')}:00`;

/** 40 minutes of ICP, of which 10 are raised. */
const MINUTES = [...Array(40).keys()];
const icpAt = (minute: number): number => (minute >= 10 && minute < 20 ? 30 : 12) + (minute % 3) / 10;

/** A unit in which every text stands in every field. */
export interface HostileUnit {
  readonly texts: readonly string[];
  /** The header of the ICP column. */
  readonly icp: string;
  readonly title: string;
  readonly expected: readonly string[];
  /** By patient. */
  readonly files: readonly string[];
  /** The report folder. */
  readonly out: string;
}

/**
 * Writes exports, logs and a pipeline file, and runs them in this process.
 *
 * @param texts different ones, each at most 500 characters long
 * @param title the report's; all texts where left out
 * @param report which
 */
export async function hostileUnit(
  texts: readonly string[],
  title = texts.join(' '),
  report: PatientReportName = 'morning',
): Promise<HostileUnit> {
  const icp = asHeader(texts.join(' / '));
  const expected = texts.map((text) => `${text} (expected)`);
  const files = texts.map(fileName);
  const header = ['Time', 'Who', icp, 'ABP mean (mmHg)', ...texts].map(quoted).join(',');
  const care = texts.flatMap((text) => [
    [text, at(5), text],
    [text, at(9), 'suction'],
    [`${text} (nobody)`, at(6), 'turned'],
  ]);
  const decisions = texts.map((text) => [text, 'icp', at(12), at(14), 'remove', '', text]);
  const csv = (rows: readonly (readonly string[])[]): string =>
    rows.map((row) => `${row.map(quoted).join(',')}\n`).join('');
  const folder = folderWith({
    ...Object.fromEntries(
      texts.map((text, i) => {
        const rows = MINUTES.map((minute) =>
          [at(minute), quoted(text), icpAt(minute), 85, ...texts.map(() => 1)].join(','),
        );
        return [`exports/${files[i]}`, `${header}\n${rows.join('\n')}\n`];
      }),
    ),
    'care.csv': csv([['Patient', 'Start', 'Event'], ...care]),
    'decisions.csv': csv([
      ['patient', 'channel', 'start', 'end', 'decision', 'direction', 'reviewer'],
      ...decisions,
    ]),
    // JSON is YAML.
    'unit.yaml': JSON.stringify({
      title,
      expected,
      exports: 'exports',
      timezone: 'Europe/Oslo',
      period: 'all',
      patient: { column: 'Who' },
      columns: { time: 'Time', icp: { header: icp, unit: 'mmHg' } },
      care: 'care.csv',
      overrides: 'decisions.csv',
      report,
    }),
  });
  const out = join(folder, 'report');
  await runPipeline(join(folder, 'unit.yaml'), { out, threads: 1 });
  return { texts, icp, title, expected, files, out };
}

import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { AuditResult } from '../../src/report/results-audit.js';
import type { Results } from '../../src/report/results-schema.js';
import { type CliOutcome, cistern, folderWith } from '../support/cistern.js';
import { commandLine } from '../support/command-line.js';

const two = (n: number): string => String(n).padStart(2, '0');

/** So many hours from 2031-02-11 08:00, a row every 5 s: ICP about 12 and, between two minutes, about 30; MAP 85. */
function dayCsv(hours: number, from: number, to: number): string {
  const rows = Array.from({ length: hours * 720 }, (_, i) => {
    const seconds = i * 5;
    const minute = seconds / 60;
    const icp = (minute >= from && minute < to ? 30 : 12) + ((i * 7) % 5) / 2;
    const clock = `${two(8 + Math.floor(seconds / 3600))}:${two(Math.floor(minute) % 60)}:${two(seconds % 60)}`;
    return `2031-02-11 ${clock},${icp},${85 + (i % 2)}`;
  });
  return `Time,ICP (mmHg),ABP mean (mmHg)\n${rows.join('\n')}\n`;
}

/** All that can go wrong with an alarm, beside two that are well. */
const ALARMS = `Patient,Onset,Ended,Acknowledged,Alarm,Limit (mmHg),Priority,Nurse
zebra-71,2031-02-11 09:00:10,2031-02-11 09:30:00,2031-02-11 09:02:10,ICP high,22,high,Somebody Invented
zebra-71,2031-02-11 09:00:10,2031-02-11 09:30:00,2031-02-11 09:02:10,ICP high,22,high,Somebody Invented
zebra-71,2031-02-11 10:30,2031-02-11 10:31,2031-02-11 10:29,ICP high,22,high,
zebra-71,2031-02-11 10:40,2031-02-11 10:39,,ICP high,22,high,
zebra-71,2031-02-11 10:50,,,Told Somebody Invented,,low,
zebra-71,2031-02-11 10:55,,,HR high,,low,
zebra-71,2031-02-13 10:00,,,ICP high,22,high,
gnu-9,2031-02-11 08:31:00,,,ICP high,22,high,
emu-5,2031-02-11 08:31:00,,,ICP high,22,high,
`;
const CARE = `Patient,Start,Event
zebra-71,2031-02-11 09:06:10,Hypertonic saline 3 % bolus
gnu-9,2031-02-11 08:40,"Told Somebody Invented"
`;

interface Ran extends CliOutcome {
  readonly out: string;
  readonly results: Results;
  readonly audit: AuditResult;
}

/** A folder with a pipeline file, two patients, one broken export and logs. */
const unitWith = (more: string): string =>
  folderWith({
    'unit.yaml': `timezone: Europe/Oslo\nreport: audit\nexports: exports\nexpected: [zebra-71, gnu-9, yak-3]\n${more}`,
    'exports/zebra-71.csv': dayCsv(4, 60, 80),
    'exports/gnu-9.csv': dayCsv(4, 30, 40),
    'exports/broken-8.csv': 'this is no export\n',
    'alarms.csv': ALARMS,
    'care.csv': CARE,
    'cohort.csv': 'Patient,Age (years),Death\nzebra-71,40,2031-02-11 09:16:10\ngnu-9,50,no\n',
  });

async function run(more = '', args: readonly string[] = []): Promise<Ran> {
  const folder = unitWith(more);
  const out = join(folder, 'report');
  const outcome = await commandLine(['run', 'unit.yaml', '--out', out, '--threads', '1', ...args], folder);
  const results = JSON.parse(readFileSync(join(out, 'results.json'), 'utf8')) as Results;
  return { ...outcome, out, results, audit: results.audit! };
}

const filesOf = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name));

const isPrivate = (path: string): boolean => (statSync(path).mode & 0o077) === 0;

const NAMES = /zebra-71|gnu-9|emu-5|yak-3|broken-8|Somebody/;

describe('an alarm audit from exports and logs', () => {
  const logs = 'alarms: alarms.csv\ncare: care.csv\ncohort: cohort.csv\n';
  let ran: Ran;
  beforeAll(async () => {
    ran = await run(logs);
  });

  it('is written where a patient failed, and says what could not be read', () => {
    expect(ran.status).toBe(1);
    expect(ran.stdout).toContain('2 patients reported, 1 without data, 1 failed.');
    expect(ran.audit.notRead).toBe(1);
  });

  it('accounts for each row of the alarm log', () => {
    const log = ran.audit.alarms.log!;
    expect(log).toMatchObject({ rowsRead: 9, merged: 0, withoutExport: 1, unaccounted: 0 });
    expect(log.judged).toEqual([
      { channel: 'icp', alarms: 2 },
      { channel: 'cpp', alarms: 0 },
    ]);
    expect(log.setAside.map(({ reason, rows }) => [reason, rows]).sort()).toEqual([
      ['acknowledged or ended before the onset', 2],
      ['the same line stands already', 1],
    ]);
    expect(log.unjudged.map(({ why, parameter }) => [why, parameter]).sort()).toEqual([
      ['otherChannel', 'HR high'],
      ['outside', 'ICP high'],
      // With one patient alone: it may be a message with a name in it.
      ['unknownParameter', 'words of one patient alone'],
    ]);
  });

  it('judges alarms and answers', () => {
    const of = (channel: 'icp' | 'cpp', clock: string) =>
      ran.audit.response.clocks.find((one) => one.channel === channel && one.clock === clock)!.periods[0];
    expect(of('icp', 'treated')).toMatchObject({ episodes: 2, happened: 1, resolvedFirst: 1 });
    expect(of('icp', 'treated').shares.map(({ minutes, happened }) => [minutes, happened])).toEqual([
      [5, 0],
      [10, 1],
      [15, 1],
      [30, 1],
    ]);
    expect(of('icp', 'resolved')).toMatchObject({ happened: 1, diedFirst: 1 });
  });

  it('names nobody outside of the files that are for their owner alone', () => {
    const files = filesOf(ran.out);
    const telling = files.filter((path) => NAMES.test(readFileSync(path, 'utf8')));
    expect(telling.map((path) => path.slice(ran.out.length + 1)).sort()).toEqual([
      'key.csv',
      'run.json',
      'tables/remarks.csv',
      'tables/setaside.csv',
    ]);
    for (const path of telling) expect(isPrivate(path), path).toBe(true);
    expect(files.filter((path) => isPrivate(path)).length).toBe(telling.length);
    const key = readFileSync(join(ran.out, 'key.csv'), 'utf8').trim().split('\r\n');
    expect(key[0]).toBe('pseudonym,patient');
    expect(
      key
        .slice(1)
        .map((line) => line.split(',')[1])
        .sort(),
    ).toEqual(['broken-8', 'gnu-9', 'yak-3', 'zebra-71']);
    // Staff stand nowhere but in rows of the exports that were set aside as they came.
    expect(readFileSync(join(ran.out, 'tables/remarks.csv'), 'utf8')).not.toContain('Somebody');
  });

  it('gives the same bytes with patients in threads, and out of the store', async () => {
    const folder = unitWith(logs);
    const out = join(folder, 'report');
    for (const threads of ['2', '1']) {
      expect(cistern(['run', 'unit.yaml', '--out', out, '--threads', threads], { cwd: folder }).status).toBe(
        1,
      );
      const open = filesOf(out).filter((path) => !isPrivate(path));
      expect(open.length).toBeGreaterThan(8);
      for (const path of open) {
        const before = path.replace(out, ran.out);
        expect(readFileSync(path, 'utf8') === readFileSync(before, 'utf8'), path).toBe(true);
      }
    }
  });

  it('says what is missing where no log is given, and still has episodes and a replay', async () => {
    const bare = await run('audit: {patients: numbers}\n', ['--no-pages']);
    expect(bare.audit.missing).toEqual([
      expect.stringMatching(/^No alarm log was given/),
      expect.stringMatching(/^No care log was given/),
      expect.stringMatching(/^No table of patients was given/),
    ]);
    expect(bare.audit.alarms.log).toBeNull();
    expect(bare.audit.alarms.channels[0]).toMatchObject({ episodes: 2, alarms: 0 });
    expect(bare.audit.whatIf?.episodes).toBe(2);
    expect(bare.results.unit.order).toEqual(['gnu-9', 'zebra-71']);
    expect(filesOf(bare.out).some((path) => path.endsWith('key.csv'))).toBe(false);
  });

  it('hides small counts, and leaves tables of single events to their owner', async () => {
    const masked = await run(`${logs}audit: {maskBelow: 5}\n`);
    expect(masked.audit.alarms.channels[0]).toMatchObject({ alarms: null, episodes: null });
    expect(masked.audit.alarms.unnoticed).toEqual([]);
    expect(masked.audit.alarms.patients).toEqual([]);
    for (const name of ['alarms', 'episodes', 'unjudged']) {
      expect(isPrivate(join(masked.out, 'tables', `${name}.csv`)), name).toBe(true);
    }
    const page = readFileSync(join(masked.out, 'index.html'), 'utf8');
    expect(page).toContain('Counts from 1 to 4 are not shown');
  });

  it('moves the times of the log where it is told to', async () => {
    const moved = await run('alarms: {files: alarms.csv, shiftSeconds: 1800}\n', ['--no-pages']);
    const lines = readFileSync(join(moved.out, 'tables/alarms.csv'), 'utf8');
    expect(lines).toContain('2031-02-11T09:30:10+01:00');
    expect(moved.audit.movedSeconds).toEqual({ alarms: 1800, care: 0 });
  });
});

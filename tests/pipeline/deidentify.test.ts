import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { beforeAll, describe, expect, it } from 'vitest';
import { deidentify } from '../../src/pipeline/deidentify/deidentify.js';
import type { Results } from '../../src/report/results-schema.js';
import { type CliOutcome, folderWith } from '../support/cistern.js';
import { commandLine } from '../support/command-line.js';

const two = (n: number): string => String(n).padStart(2, '0');

/** Lines above the data, a column of notes and one of staff: all that must not go over. */
const PREAMBLE = 'Patient name: Invented Somebody\nMRN: 99887766\nDevice serial: SN-4711-Q\n';

/** So many hours from 2031-02-11 08:00:05, a row every 5 s, with excursions and coughs. */
function dayCsv(hours: number, from: number, to: number): string {
  const rows = Array.from({ length: hours * 720 }, (_, i) => {
    const seconds = i * 5 + 5;
    const minute = seconds / 60;
    const icp = (minute >= from && minute < to ? 30 : 12) + ((i * 7) % 5) / 2 + (i % 500 === 100 ? 25 : 0);
    const clock = `${two(8 + Math.floor(seconds / 3600))}:${two(Math.floor(minute) % 60)}:${two(seconds % 60)}`;
    return `2031-02-11 ${clock},${icp.toFixed(1)},${85 + (i % 2)},Nurse Invented,${i === 50 ? 'wife Zoe visits' : ''}`;
  });
  return `${PREAMBLE}Time,ICP left Bay Lantern 3 (mmHg),ABP mean (mmHg),Nurse Invented Column,Remarks of Zoe\n${rows.join('\n')}\n`
    .replace('ICP left Bay Lantern 3 (mmHg)', 'P1 Lantern')
    .replace(/(2031-02-11 09:00:00),[^,]*,/, '$1,Zoe was here,');
}

const ALARMS = `Bed,Onset,Ended,Acknowledged,Alarm,Limit (mmHg),Priority,Nurse,Message
Bay Lantern 3,2031-02-11 09:00:10,2031-02-11 09:30:00,2031-02-11 09:02:10,ICP high,22,high,Invented Nurse,call Dr Somebody
Bay Lantern 3,2031-02-11 09:10:10,,,Zoe's own alarm,,low,,
Bay Lantern 9,2031-02-11 09:20:10,,,ICP high,22,high,,
`;
const CARE = `Patient,Start,Event,Note
zebra-71,2031-02-11 09:06:10,Hypertonic saline 3 % bolus,asked by Dr Somebody
zebra-71,2031-02-11 09:20,Turned to left side,Zoe helped
gnu-9,2031-02-11 08:40,Told Invented Somebody,
left-2,2031-02-11 08:40,Turned,
`;
const BEDS = `Bed,Patient,From,To
Bay Lantern 3,zebra-71,2031-02-11 07:00,2031-02-13 07:00
Bay Lantern 9,gnu-9,2031-02-11 07:00,2031-02-13 07:00
`;
const COHORT = `Patient,Name,Phone,Email,Age (years),Injury,GCS total,Death,GOSE,Notes
zebra-71,Invented Somebody,555-0100-22,zoe@lantern.example,93,2031-02-11 06:30,6,no,5,lives at Lantern Quay 12
gnu-9,Invented Nobody,555-0100-23,,44,2031-02-10,7,2031-02-20,1,
late-4,Invented Other,,,50,2031-02-12 10:00,8,no,6,
`;

/** Whatever may name somebody, anywhere in the inputs. */
const PLANTED =
  /zebra|gnu-9|broken-8|left-2|late-4|invented somebody|invented nobody|nurse|dr somebody|zoe|lantern|bay |99887766|4711|555-0100|quay|2031-02-1[0-3]|hypertonic|europe|oslo|remarks/i;

/** A plateau of which a person removed a part, and a stretch that another one doubts. */
const REVIEWED = `patient,channel,start,end,decision,direction,reviewer
zebra-71,icp,2031-02-11 09:05:00,2031-02-11 09:07:00,remove,,Dr Somebody
gnu-9,icp,2031-02-11 08:35:00,2031-02-11 08:36:00,suspect,down,Nurse Zoe
left-2,icp,2031-02-11 08:35:00,2031-02-11 08:36:00,keep,,Nurse Zoe
`;
const TARGETS = `patient,from,until,CPP target (mmHg)
zebra-71,,2031-02-11,74
gnu-9,2031-02-11 08:31,,73
`;

const YAML = `title: Lantern Bay, ward of Zoe
timezone: Europe/Oslo
report: morning
period: all
exports: exports
patient: {fileName: '^([a-z]+-\\d+)'}
columns: {icp: {header: P1 Lantern, unit: mmHg}}
expected: [zebra-71, gnu-9, yak-3]
care: care.csv
alarms: alarms.csv
occupancy: beds.csv
cohort: cohort.csv
overrides: reviewed.csv
targets: targets.csv
`;

const unit = (): string =>
  folderWith({
    'unit.yaml': YAML,
    'exports/zebra-71_2031-02-11.csv': dayCsv(4, 60, 80),
    'exports/gnu-9_Bay Lantern 9.csv': dayCsv(3, 30, 40),
    'exports/broken-8.csv': 'this is no export of Zoe\n',
    'care.csv': CARE,
    'alarms.csv': ALARMS,
    'beds.csv': BEDS,
    'cohort.csv': COHORT,
    'reviewed.csv': REVIEWED,
    'targets.csv': TARGETS,
  });

const share = (folder: string, more: readonly string[] = [], out = 'shared', key = 'key.csv') =>
  commandLine(['deidentify', 'unit.yaml', '--out', out, '--key', key, ...more], folder);

/** All files below a folder, by their paths; packed ones unpacked. */
function filesBelow(folder: string): Map<string, { raw: Buffer; text: string }> {
  const names = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((name) =>
    statSync(join(folder, name)).isFile(),
  );
  return new Map(
    names.map((name) => {
      const raw = readFileSync(join(folder, name));
      return [name, { raw, text: (name.endsWith('.gz') ? gunzipSync(raw) : raw).toString('utf8') }];
    }),
  );
}

const codesIn = (folder: string): Map<string, string> =>
  new Map(
    readFileSync(join(folder, 'key.csv'), 'utf8')
      .trim()
      .split('\r\n')
      .slice(1)
      .map((line): [string, string] => [line.split(',')[1], line.split(',')[0]]),
  );

const resultsOf = (folder: string): Results => JSON.parse(readFileSync(join(folder, 'results.json'), 'utf8'));

/** The figures of a report on one patient, without the times that they are of. */
const figures = (results: Results, id: string) => {
  const one = results.recordings.find((recording) => recording.id === id);
  if (!one) throw new Error(`no ${id}`);
  const { monitoredHours, icp, icpRaw, cpp, episodes, nominalIntervalSeconds, lowCpp, removed } = one;
  return {
    ...{ monitoredHours, icp, icpRaw, cpp, nominalIntervalSeconds },
    episodes: episodes.map(({ start, end, ...rest }) => rest),
    lowCppMinutes: lowCpp.episodes.map(({ minutes }) => minutes),
    rules: removed.map(({ rule, grade }) => [rule, grade]),
  };
};

describe.each(['elapsed', 'shifted'] as const)('cistern deidentify --times %s', (times) => {
  let folder = '';
  let ran: CliOutcome;
  let files: Map<string, { raw: Buffer; text: string }>;
  let codes: Map<string, string>;

  beforeAll(async () => {
    folder = unit();
    ran = await share(folder, ['--times', times, ...(times === 'shifted' ? ['--days', '3'] : [])]);
    files = filesBelow(join(folder, 'shared'));
    codes = codesIn(folder);
  });

  it('leaves out whom it cannot read, and says so by status and name to the person at the keyboard alone', () => {
    expect(ran.status).toBe(1);
    expect(ran.stderr).toContain('cistern: patient broken-8 failed and is left out: ');
    expect(ran.stdout).toContain(
      'Patients: 2 shared, 1 whose exports could not be read and are left out, 1 in the cohort table alone.',
    );
    expect(ran.stdout).toContain('Care log: 3 entries shared, 1 left out');
    expect(ran.stdout).toContain('Decisions of reviewers, who are numbered: 2 entries shared, 1 left out');
    expect(ran.stdout).toContain('1 age over 89 written as 90 with a flag; 1 time left out');
  });

  it('has nothing in any byte or name that was planted', () => {
    expect([...files.keys()].sort()).toEqual(
      [
        ...['README.txt', 'alarms.csv', 'care.csv', 'cohort.csv', 'deidentified-set.json', 'pipeline.yaml'],
        ...['overrides.csv', 'targets.csv'],
        ...[...['zebra-71', 'gnu-9'].map((id) => join('patients', `${codes.get(id)}.csv.gz`))].sort(),
        'report.html',
      ].sort(),
    );
    for (const [name, { raw, text }] of files) {
      // A shifted date may fall on any day near.
      const sought =
        times === 'elapsed' ? PLANTED : new RegExp(PLANTED.source.replace('|2031-02-1[0-3]', ''), 'i');
      expect.soft(sought.exec(`${name}\n${text}`)?.[0], name).toBeUndefined();
      // What is packed has nothing but its head and the text: see below.
      expect.soft(sought.exec(name.endsWith('.gz') ? '' : raw.toString('latin1'))?.[0], name).toBeUndefined();
      if (times === 'elapsed') expect.soft(text, name).not.toMatch(/\b203[01]-/);
      // The first row of each export, and an alarm.
      expect.soft(text, name).not.toMatch(/2031-02-11 0(?:8:00:05|9:00:10)/);
    }
    expect(PLANTED.test(`${dayCsv(1, 0, 1)}`)).toBe(true);
  });

  it('packs without a name or a time in the head, and dates all files alike', () => {
    for (const [name, { raw }] of files) {
      expect(statSync(join(folder, 'shared', name)).mtime.toISOString()).toBe('2000-01-01T00:00:00.000Z');
      if (!name.endsWith('.gz')) continue;
      // RFC 1952: flags, then the time of the file in four bytes.
      expect([...raw.subarray(0, 8)]).toEqual([0x1f, 0x8b, 8, 0, 0, 0, 0, 0]);
    }
  });

  it('writes who is who apart, for its owner alone', () => {
    expect(statSync(join(folder, 'key.csv')).mode & 0o777).toBe(0o600);
    const lines = readFileSync(join(folder, 'key.csv'), 'utf8').split('\r\n');
    expect(lines[0]).toBe('code,patient,monitoring_from,shared_zero,shift_days');
    const zebra = lines.find((line) => line.includes('zebra-71'))?.split(',') ?? [];
    expect(zebra[2]).toBe('2031-02-11T08:00:05+01:00');
    if (times === 'elapsed') expect(zebra.slice(3)).toEqual(['2031-02-11T08:00:00+01:00', '']);
    else expect(Math.abs(Number(zebra[4]))).toBeLessThanOrEqual(3);
    expect([...codes.keys()].sort()).toEqual(['gnu-9', 'late-4', 'zebra-71']);
  });

  it('is read by our own program, with the same figures', async () => {
    const before = await commandLine(
      ['run', 'unit.yaml', '--no-pages', '--threads', '1', '--out', 'report'],
      folder,
    );
    const after = await commandLine(
      ['run', 'shared/pipeline.yaml', '--no-pages', '--threads', '1', '--out', 'again'],
      folder,
    );
    expect([before.status, after.status]).toEqual([1, 0]);
    const [a, b] = [resultsOf(join(folder, 'report')), resultsOf(join(folder, 'again'))];
    expect(b.recordings).toHaveLength(2);
    for (const id of ['zebra-71', 'gnu-9']) {
      const [was, is] = [figures(a, id), figures(b, codes.get(id) ?? '')];
      expect(was.icp.doseMmHgHours).toBeGreaterThan(1);
      expect(was.icpRaw.doseMmHgHours).toBeGreaterThan(was.icp.doseMmHgHours ?? 0);
      expect(was.episodes.length).toBeGreaterThan(0);
      expect(was.lowCppMinutes.length).toBeGreaterThan(0);
      expect(was.rules.map(([rule]) => rule)).toContain('reviewed');
      if (times === 'shifted') expect(is).toEqual(was);
      else expectNear(is, was);
    }
    const entries = b.recordings.flatMap(({ bedside }) => bedside?.entries ?? []);
    expect(entries.filter(({ text }) => text === 'treatment')).toHaveLength(1);
  });

  it('reads its logs and cohort again without setting a row aside', async () => {
    const inspected = await commandLine(['check', 'shared/pipeline.yaml'], folder);
    expect(inspected.status).toBe(0);
    const results = resultsOf(join(folder, 'again'));
    expect(results.logs?.map(({ kind, rowsRead, rowsSetAside }) => [kind, rowsRead, rowsSetAside])).toEqual([
      ['care', 3, 0],
      ['alarms', 3, 0],
      ['cohort', 3, 0],
      ['overrides', 2, 0],
      ['targets', 2, 0],
    ]);
  });

  it('says what was done about each of the 18 kinds, and who decides', () => {
    for (const name of ['report.html', 'README.txt']) {
      const text = (files.get(name)?.text ?? '').replace(/\s+/g, ' ');
      for (const letter of 'ABCDEFGHIJKLMNOPQR') expect(text, name).toContain(`${letter}. `);
      expect(text).toContain('A privacy officer decides whether this set may be passed on.');
      expect(text.includes('ot Safe Harbor')).toBe(times === 'shifted');
    }
  });

  it('is replaced by another set, and only with another key', async () => {
    const same = await share(folder, ['--times', times]);
    expect(same.status).toBe(2);
    expect(same.stderr).toContain(
      'key.csv exists already. Give --key another name: a key is never written over, since the codes of an earlier set could not be resolved any more.',
    );
    const old = readdirSync(join(folder, 'shared/patients'));
    expect((await share(folder, [], 'shared', 'key-2.csv')).status).toBe(1);
    const fresh = readdirSync(join(folder, 'shared/patients'));
    expect(fresh).toHaveLength(2);
    expect(fresh.filter((name) => old.includes(name))).toEqual([]);
    expect(readdirSync(folder).filter((name) => name.startsWith('.shared'))).toEqual([]);
  });
});

/** Numbers equal to ten digits: other instants lose other last bits. */
function expectNear(is: unknown, was: unknown): void {
  if (typeof was === 'number')
    expect(Math.abs((is as number) - was)).toBeLessThan(1e-7 * Math.max(1, Math.abs(was)));
  else if (was !== null && typeof was === 'object') {
    expect(Object.keys(is as object)).toEqual(Object.keys(was));
    for (const [key, value] of Object.entries(was)) expectNear((is as Record<string, unknown>)[key], value);
  } else expect(is).toBe(was);
}

describe('cistern deidentify refuses', () => {
  let folder = '';
  beforeAll(() => {
    folder = unit();
    mkdirSync(join(folder, 'report'));
    writeFileSync(join(folder, 'report/results.json'), '{}');
    mkdirSync(join(folder, 'mixed/patients'), { recursive: true });
    writeFileSync(join(folder, 'mixed/deidentified-set.json'), '{}');
    writeFileSync(join(folder, 'mixed/patients/zebra-71.csv'), 'x');
    mkdirSync(join(folder, 'unmarked'));
    writeFileSync(join(folder, 'unmarked/care.csv'), 'x');
    mkdirSync(join(folder, 'strange'));
    writeFileSync(join(folder, 'strange/bed-7.csv'), 'x');
    symlinkSync(join(folder, 'exports'), join(folder, 'link'));
    mkdirSync(join(folder, 'empty'));
    symlinkSync(join(folder, 'empty'), join(folder, 'to-empty'));
    symlinkSync(join(folder, 'empty/k.csv'), join(folder, 'to-key.csv'));
    symlinkSync(join(folder, 'shared'), join(folder, 'to-shared'));
  });

  const NEW = 'Choose a new folder with --out: what lies in a shared folder is passed on with it.';
  it.each([
    [
      'a folder with a report',
      'report',
      'k.csv',
      `holds results.json, of a report, which names patients. ${NEW}`,
    ],
    [
      'a set with a foreign file',
      'mixed',
      'k.csv',
      `holds patients/zebra-71.csv, which may be an export that names a patient. ${NEW}`,
    ],
    [
      'a folder without the mark of a set',
      'unmarked',
      'k.csv',
      `holds care.csv, and no deidentified-set.json says that it is a de-identified set. ${NEW}`,
    ],
    [
      'a folder with an export',
      'strange',
      'k.csv',
      `holds bed-7.csv, which may be an export or a log that names patients. ${NEW}`,
    ],
    [
      'a folder among the exports',
      'exports/shared',
      'k.csv',
      'lies in the folder of the exports. Choose a place outside with --out: later runs would read the shared files as exports.',
    ],
    [
      'a folder among the exports behind a link',
      'link/shared',
      'k.csv',
      'lies in the folder of the exports.',
    ],
    ['a folder around the exports', '.', '../k.csv', `holds exports, which the set is made from. ${NEW}`],
    ['a key in the shared folder', 'shared', 'shared/k.csv', 'lies in the shared folder'],
    ['a key in it by another way', 'shared', 'exports/../shared/k.csv', 'lies in the shared folder'],
    ['a key in it behind a link', 'empty', 'to-empty/k.csv', 'lies in the shared folder'],
    [
      'a key that is a link into it',
      'empty',
      'to-key.csv',
      'to-key.csv exists already. Give --key another name',
    ],
    [
      'a key behind a link to a folder that is not there yet',
      'shared',
      'to-shared/k.csv',
      'cannot be written (its folder is not there). Give --key another place.',
    ],
    [
      'a key among the exports',
      'shared',
      'exports/k.csv',
      'lies in the folder of the exports. Choose a place outside with --key: later runs would read it as an export.',
    ],
    [
      'a key in a folder that is not there',
      'shared',
      'nowhere/k.csv',
      'cannot be written (its folder is not there). Give --key another place.',
    ],
  ])('%s', async (_, out, key, sentence) => {
    const ran = await share(folder, [], out, key);
    expect([ran.status, ran.stdout]).toEqual([2, '']);
    expect(ran.stderr).toContain(sentence);
    expect(existsSync(join(folder, key))).toBe(false);
    expect(existsSync(join(folder, 'shared'))).toBe(false);
  });

  it('a key that a broken run has left, and says so', async () => {
    writeFileSync(join(folder, 'left.csv'), '');
    const { status, stderr } = await share(folder, [], 'shared', 'left.csv');
    expect(status).toBe(2);
    expect(stderr).toContain(
      'left.csv exists already and is empty: a run that was broken off has left it, or one is at work now. Where none is, remove it: no set was written with it. Or give --key another name.',
    );
    expect(statSync(join(folder, 'left.csv')).size).toBe(0);
  });

  it('to go on where it is interrupted, and leaves neither a key nor half a set', async () => {
    const controller = new AbortController();
    const [out, key] = [join(folder, 'shared'), join(folder, 'k.csv')];
    const running = deidentify(join(folder, 'unit.yaml'), {
      ...{ out, key, signal: controller.signal },
      onGroup: () => controller.abort(),
    });
    await expect(running).rejects.toThrow(/abort/);
    expect(readdirSync(folder).filter((name) => /^\.?shared|^k\.csv/.test(name))).toEqual([]);
  });

  it('days for elapsed times, and a set of nobody, and leaves no key behind', async () => {
    const days = await share(folder, ['--days', '9']);
    expect(days.stderr).toContain(
      '--days says how far dates are moved, and times are elapsed. Leave it out, or give --times shifted.',
    );
    const nobody = await share(folder, ['--data', 'exports/broken-8.csv']);
    expect(nobody.status).toBe(2);
    expect(nobody.stderr).toContain(
      'no patient could be read, so there is nothing to share (patient broken-8: ',
    );
    expect(existsSync(join(folder, 'key.csv'))).toBe(false);
    expect(readdirSync(folder).filter((name) => /^\.?shared/.test(name))).toEqual([]);
  });
});

import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it, test } from 'vitest';
import type { RecordingResult, Results } from '../../src/report/results-schema.js';
import { type CliOutcome, cistern, folderWith, newFolder, ROOT } from '../support/cistern.js';
import { commandLine } from '../support/command-line.js';
import { differences } from '../support/compare-folders.js';

const two = (n: number): string => String(n).padStart(2, '0');

/** ICP every 5 s over a night, with coughs of 10 s to 60 mmHg at 21:00, 22:00 and 23:00, and 30 mmHg from 01:00 to 01:20. */
function coughing(): string {
  const rows = Array.from({ length: 8641 }, (_, i) => {
    const t = 19 * 3600 + i * 5;
    const clock = `${two(Math.floor(t / 3600) % 24)}:${two(Math.floor(t / 60) % 60)}:${two(t % 60)}`;
    const coughs = [21, 22, 23].some((hour) => t >= hour * 3600 && t < hour * 3600 + 10);
    const raised = t >= 25 * 3600 && t <= 25 * 3600 + 1200;
    const beat = (i % 7) / 10;
    return `2031-02-${t < 86_400 ? 11 : 12} ${clock},${coughs ? 60 : (raised ? 30 : 12) + beat},${85 + (i % 5)}`;
  });
  return `Time,ICP (mmHg),ABP mean (mmHg)\n${rows.join('\n')}\n`;
}

interface Ran extends CliOutcome {
  readonly out: string;
  readonly results: Results;
  readonly one: RecordingResult;
}

const folder = folderWith({
  'unit.yaml': 'timezone: Europe/Oslo\nreport: morning\nexports: exports\nclean: {step: off}\n',
  'exports/007.csv': coughing(),
});

async function run(name: string, args: readonly string[] = []): Promise<Ran> {
  const out = join(folder, name);
  const outcome = await commandLine(['run', 'unit.yaml', '--out', out, '--threads', '1', ...args], folder);
  const results =
    outcome.status === 0 ? JSON.parse(readFileSync(join(out, 'results.json'), 'utf8')) : ({} as Results);
  return { ...outcome, out, results, one: results.recordings?.[0] };
}

const markedOf = ({ out }: Ran): string[] =>
  readFileSync(join(out, 'tables/marked.csv'), 'utf8').trimEnd().split('\r\n');
/** Writes a copy of a table of marks, changed line by line. */
function copied(name: string, lines: readonly string[]): string {
  writeFileSync(join(folder, name), `${lines.join('\r\n')}\r\n`);
  return name;
}
const textOf = (path: string): string =>
  readFileSync(path, 'utf8')
    .replace(/<[^>]+>/g, '')
    .replaceAll('&lt;', '<');

describe('a table of marks that a person has looked through', () => {
  let before: Ran;
  let lines: string[];
  let after: Ran;
  beforeAll(async () => {
    before = await run('before');
    lines = markedOf(before);
    const [header, first, second, third] = lines;
    // One cough is kept, one is suspect, and a stretch that no rule saw is removed.
    after = await run('after', [
      '--set',
      `overrides=${copied('reviewed.csv', [
        header,
        `${first.slice(0, -1)}keep,A. B.`,
        second.replace(/,removed,,(.*),,,$/, ',removed,up,$1,,suspect,CD'),
        third,
        '007,icp,,2031-02-12T01:00:00+01:00,2031-02-12T01:20:00+01:00,,,,,remove,A. B.',
      ])}`,
    ]);
  });

  it('has blank columns for a decision and who made it', () => {
    expect(lines[0]).toBe(
      'patient,channel,rule,start,end,grade,direction,evidence,decidedBy,decision,reviewer',
    );
    expect(lines.slice(1)).toEqual(
      [21, 22, 23].map(
        (hour) =>
          `007,icp,briefSpike,2031-02-11T${hour}:00:00+01:00,2031-02-11T${hour}:00:05+01:00,removed,,,,,`,
      ),
    );
  });

  it('changes the figures as it says when it is fed back', () => {
    expect([after.status, after.stderr]).toEqual([0, '']);
    // What was kept at 60 mmHg for 5 s, with its flanks of 5 s from and to 12, counts again; so does what is suspect upward.
    const cough = 38 * 5 + ((38 * 38) / 48) * 5;
    expect((before.one.icp.doseMmHgHours ?? 0) * 3600).toBeGreaterThan(8 * 1200);
    expect(((after.one.icp.doseMmHgHours ?? 0) * 3600) / (2 * cough)).toBeCloseTo(1, 1);
    expect([before.one.episodes.length, after.one.episodes.length]).toEqual([1, 0]);
    expect(after.one.cleaning.withoutDecisions?.icpDoseMmHgHours).toBe(before.one.icp.doseMmHgHours);
  });

  it('stands in results.json, with what it overruled', () => {
    expect(after.one.decisions).toMatchObject([
      {
        channel: 'icp',
        decision: 'keep',
        start: '2031-02-11T21:00:00+01:00',
        reviewer: 'A. B.',
        rules: ['briefSpike'],
      },
      { decision: 'suspect', direction: 'up', reviewer: 'CD', rules: ['briefSpike'] },
      { decision: 'remove', direction: null, end: '2031-02-12T01:20:00+01:00', reviewer: 'A. B.', rules: [] },
    ]);
    expect(after.one.removed.map(({ rule, grade, decidedBy }) => [rule, grade, decidedBy])).toEqual([
      ['reviewed', 'suspect', 'CD'],
      ['briefSpike', 'removed', null],
      ['reviewed', 'removed', 'A. B.'],
    ]);
    expect(after.results.logs).toMatchObject([
      {
        file: 'reviewed.csv',
        kind: 'overrides',
        rowsRead: 4,
        rowsUsed: 3,
        rowsUndecided: 1,
        rowsSetAside: 0,
      },
    ]);
    const { inputs } = JSON.parse(readFileSync(join(after.out, 'run.json'), 'utf8'));
    expect(inputs.map(({ file }: { file: string }) => file)).toEqual(['007.csv', 'reviewed.csv']);
    expect(after.results.settings).toMatchObject({ overrides: { files: ['reviewed.csv'] } });
  });

  it('is named on the page as theirs', () => {
    const page = textOf(join(after.out, 'patient-007_detail.html'));
    expect(page).toContain(
      'What a person decided; no rule has a say there. By the rules alone the dose above 22 mmHg would be 2.8 mmHg·h, and is 0.2; the CPP dose below 60 mmHg would be 1.1, and is 0.2.',
    );
    for (const text of ['A. B.', 'CD', "ICP: a person's decision", 'suspect, stays in'])
      expect(page).toContain(text);
    for (const name of ['patient-007.html', 'patient-007_detail.html'])
      expect(textOf(join(before.out, name))).not.toContain('a person decided');
  });

  it('adds up', () => {
    for (const { channel, keptShare, noDataShare } of after.one.cleaning.channels) {
      const taken = after.one.cleaning.takes.filter((take) => take.channel === channel && !take.staysIn);
      expect(
        taken.reduce((sum, { shareOfPeriod }) => sum + shareOfPeriod, keptShare + noDataShare),
      ).toBeCloseTo(1, 9);
    }
  });

  it('comes out the same byte for byte a second time', async () => {
    const again = await run('again', ['--set', 'overrides=reviewed.csv']);
    expect(differences(again.out, after.out, join(newFolder(), 'differences'))).toEqual([]);
  });

  it('can be carried on with: the new table holds what was decided', async () => {
    const next = markedOf(after);
    expect(next.slice(1).map((line) => line.split(',').slice(2))).toEqual([
      [
        'reviewed',
        '2031-02-11T21:00:00+01:00',
        '2031-02-11T21:00:05+01:00',
        'kept',
        '',
        '',
        'A. B.',
        'keep',
        'A. B.',
      ],
      [
        'reviewed',
        '2031-02-11T22:00:00+01:00',
        '2031-02-11T22:00:05+01:00',
        'suspect',
        'up',
        '',
        'CD',
        'suspect',
        'CD',
      ],
      ['briefSpike', '2031-02-11T23:00:00+01:00', '2031-02-11T23:00:05+01:00', 'removed', '', '', '', '', ''],
      [
        'reviewed',
        '2031-02-12T01:00:00+01:00',
        '2031-02-12T01:20:00+01:00',
        'removed',
        '',
        '',
        'A. B.',
        'remove',
        'A. B.',
      ],
    ]);
    const again = await run('next', ['--set', `overrides=${copied('next.csv', next)}`]);
    expect(again.one).toEqual(after.one);
    expect(markedOf(again)).toEqual(next);
  });

  it('is read as a spreadsheet saves it again, with semicolons and in Windows-1252', async () => {
    const text = readFileSync(join(folder, 'reviewed.csv'), 'utf8')
      .replaceAll(',', ';')
      .replaceAll('CD', 'C\u00d8');
    writeFileSync(join(folder, 'saved.csv'), Buffer.from(text, 'latin1'));
    const { one } = await run('saved', ['--set', 'overrides=saved.csv']);
    expect(one.decisions.map(({ reviewer }) => reviewer)).toEqual(['A. B.', 'C\u00d8', 'A. B.']);
    expect(one.icp).toEqual(after.one.icp);
  });

  it('is refused where a spreadsheet dropped the zeros of its patients', async () => {
    const text = readFileSync(join(folder, 'reviewed.csv'), 'utf8').replaceAll('007', '7');
    const { status, stderr } = await run('dropped', [
      '--set',
      `overrides=${copied('dropped.csv', text.trimEnd().split('\r\n'))}`,
    ]);
    expect([status, stderr]).toEqual([
      2,
      'cistern: dropped.csv, line 2: the row decides on patient "7", which no export holds. Did the spreadsheet drop the zeros of "007"? Write the patient as it stands in the report.\n',
    ]);
  });

  it('says at the top who decided what, and on the page of the unit', () => {
    const says =
      'A person decided (A. B. and CD): 20 min 10 s of ICP taken out and 30 s of ICP put in. By the rules alone ICP would be above 22 mmHg for 20 min (dose 2.8 mmHg·h), not < 1 min (0.2); CPP would be below 60 mmHg for 20 min (dose 1.1 mmHg·h), not < 1 min (0.2).';
    expect(after.one.decisionNote).toBe(says);
    const page = textOf(join(after.out, 'patient-007.html'));
    expect(page.indexOf(says)).toBeGreaterThan(0);
    expect(page.indexOf(says)).toBeLessThan(page.indexOf('Hour by hour'));
    const unit = textOf(join(after.out, 'index.html'));
    expect(unit).toContain(says);
    expect(unit).toContain(
      'Without what a person decided, ICP would have been above 22 mmHg in patient 007 for 20 min, dose 2.8 mmHg·h.',
    );
    expect(before.one.decisionNote).toBeNull();
  });

  it('cannot make a patient vanish: who is unknown since a person removed it comes first, with the name', async () => {
    const all = '007,icp,,2031-02-11T19:00:00+01:00,2031-02-12T07:00:00+01:00,,,,,remove,A. B.';
    const { one, out } = await run('all', ['--set', `overrides=${copied('all.csv', [lines[0], all])}`]);
    expect(one.sentence).toBe(
      'Cannot say: ICP was known for 0 % of the night only (A. B. removed 100 %; by the rules alone it would be known for > 99 %).',
    );
    expect(one.decisionNote).toMatch(
      /^A person decided \(A\. B\.\): 11 h 59 min of ICP taken out\. By the rules alone ICP would be above 22 mmHg for 20 min \(dose 2\.8 mmHg·h\); CPP would be below 60 mmHg for 20 min \(dose 1\.1 mmHg·h\)\.$/,
    );
    expect(one.episodesReason).toBe('no ICP in this time');
    const unit = readFileSync(join(out, 'index.html'), 'utf8');
    const [row] = /<tr class="cannot noted">.*?<\/tr>/s.exec(unit) ?? [''];
    expect([...row.matchAll(/<td class="n">(.*?)<\/td>/g)].map(([, cell]) => cell)).toEqual([
      '0 %',
      ...Array(6).fill('–'),
    ]);
    const patients = readFileSync(join(out, 'tables/patients.csv'), 'utf8').split('\r\n');
    expect(patients[1].split(',')[patients[0].split(',').indexOf('episodes')]).toBe('');
    expect(textOf(join(out, 'patient-007.html'))).toContain('Episodes cannot be told: no ICP in this time.');
  });

  it('says which decisions have nothing to act on', async () => {
    const [header] = lines;
    const rows = [
      '12,icp,,2031-02-12 01:00,2031-02-12 01:20,,,,,remove,AB',
      '007,icp,,2013-02-12 01:00,2013-02-12 01:20,,,,,remove,AB',
      '007,icpDrain,,2031-02-12 01:00,2031-02-12 01:20,,,,,remove,AB',
    ];
    const { one, results, stderr } = await run('idle', [
      '--set',
      `overrides=${copied('idle.csv', [header, ...rows])}`,
    ]);
    expect(results.logs[0].warnings).toEqual([
      'It names 1 patient of whom there is no export: "12" (1 decision).',
      'Line 4 decides on ICP through the drain of patient "007", whose exports hold none.',
      '1 decision is on times that the exports do not reach (line 3 first).',
    ]);
    expect(stderr.split('\n')).toHaveLength(4);
    expect([one.decisions, one.icp]).toEqual([[], before.one.icp]);
  });

  test.each([
    ['nowhere.csv', null, 'there is no file or folder nowhere.csv. Look at overrides in the pipeline file.'],
    [
      'word.csv',
      'keeep,AB',
      'word.csv, line 2, column "decision": "keeep" is none of keep, remove and suspect. Did you mean "keep"? Correct the cell.',
    ],
    [
      'name.csv',
      'keep,',
      'name.csv, line 2, column "reviewer": the decision names no reviewer. A decision is somebody\'s: write the name or initials of who decided into the column "reviewer".',
    ],
  ])('%s is refused in a sentence', async (name, cells, sentence) => {
    if (cells !== null) copied(name, [lines[0], `${lines[1].slice(0, -1)}${cells}`]);
    const { status, stderr } = await run('refused', ['--set', `overrides=${name}`]);
    expect([status, stderr]).toEqual([2, `cistern: ${sentence}\n`]);
  });
});

describe('the demo, with a decision on one of its marks', () => {
  it('names who decided, and changes nothing of any other patient', () => {
    const base = join(newFolder(), 'base');
    expect(cistern(['run', 'demo', '--out', base]).status).toBe(0);
    const lines = readFileSync(join(base, 'tables/marked.csv'), 'utf8').split('\r\n');
    const at = lines.findIndex((line) => line.startsWith('104,icp,briefSpike'));
    lines[at] = lines[at].replace(/,,$/, ',keep,Q');
    const reviewed = join(base, '../reviewed.csv');
    writeFileSync(reviewed, lines.join('\r\n'));
    const out = join(newFolder(), 'demo');
    const { status, stderr } = cistern(['run', 'demo', '--set', `overrides=${reviewed}`, '--out', out], {
      cwd: ROOT,
    });
    expect([status, stderr]).toEqual([0, '']);
    const [a, b] = [base, out].map(
      (one) => JSON.parse(readFileSync(join(one, 'results.json'), 'utf8')) as Results,
    );
    for (const [i, { id, icp }] of b.recordings.entries()) {
      if (id === '104') expect(icp.meanMmHg).toBeGreaterThan(a.recordings[i].icp.meanMmHg ?? Number.NaN);
      else expect(b.recordings[i]).toEqual(a.recordings[i]);
    }
    expect(b.recordings.find(({ id }) => id === '104')?.decisions).toMatchObject([
      { decision: 'keep', reviewer: 'Q' },
    ]);
  });
});

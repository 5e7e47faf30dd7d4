import { describe, expect, it } from 'vitest';
import { cistern, folderWith, nightCsv } from '../support/cistern.js';
import { commandLine } from '../support/command-line.js';

/** Clears the screen, names the window, goes to the start of the line, turns the direction of writing. */
const NAME = '7\u001b[2J\u001b]0;x\u0007\u009b1m\u202e7';
const SEEN = '7⟨U+001B⟩[2J⟨U+001B⟩]0;x⟨U+0007⟩⟨U+009B⟩1m⟨U+202E⟩7';
/** The name of a file has a space for each of them that is a control. */
const FILE_SEEN = '7 [2J ]0;x 1m⟨U+202E⟩7';
const UNSEEN = /(?!\n)[\p{Cc}\p{Cs}\p{Zl}\p{Zp}\u202a-\u202e\u2066-\u2069]/u;

const quoted = (text: string): string => `"${text.replaceAll('"', '""')}"`;
const withPatient = (id: string): string =>
  nightCsv((minute) => 12 + (minute % 3))
    .split('\n')
    .map((line, i) => (line === '' ? '' : `${i === 0 ? 'Who' : quoted(id)},${line}`))
    .join('\n');

const BY_COLUMN = 'exports: exports\nreport: morning\npatient: {column: Who}\n';
const BY_FILE = 'exports: exports\nreport: morning\n';

describe('a name that would act on a terminal is named there instead', () => {
  it('where it is a patient of a run', async () => {
    const id = `${NAME}\ncistern: all is well`;
    const files = { 'unit.yaml': BY_COLUMN, 'exports/a.csv': withPatient(id) };
    const { status, stdout, stderr, progress } = await commandLine(
      ['run', 'unit.yaml', '--threads', '1'],
      folderWith(files),
    );
    expect([status, stderr]).toEqual([0, '']);
    expect(progress).toHaveLength(1);
    expect(progress[0]).toContain(`cistern: 1 of 1, patient ${SEEN} cistern: all is well: 721 rows read`);
    expect(stdout).not.toMatch(UNSEEN);
  });

  it('where it is one of whom nobody can say how he was', async () => {
    const yaml = `${BY_FILE}expected: [${JSON.stringify(`${NAME}\nOpen nothing`)}]\n`;
    const files = { 'unit.yaml': yaml, 'exports/a.csv': nightCsv((minute) => 12 + (minute % 3)) };
    const { stdout } = await commandLine(['run', 'unit.yaml', '--threads', '1'], folderWith(files));
    expect(stdout).toContain(`the data cannot say how ${SEEN} Open nothing was: look there first.`);
    expect(stdout.split('\n')).toHaveLength(5);
    expect(stdout).not.toMatch(UNSEEN);
  });

  it('where it is a file that cannot be read', async () => {
    const files = { 'unit.yaml': BY_FILE, [`exports/${NAME}.csv`]: 'a\n1\n' };
    const { status, stdout, stderr, progress } = await commandLine(
      ['run', 'unit.yaml', '--threads', '1'],
      folderWith(files),
    );
    expect(status).toBe(1);
    expect(stderr).toContain(`cistern: patient ${FILE_SEEN} failed: ${FILE_SEEN}.csv, line 1: `);
    for (const text of [stdout, stderr, ...progress]) expect(text).not.toMatch(UNSEEN);
  });

  it.each([
    ['a pipeline file', ['check', `${NAME}.yaml`]],
    ['a file', ['inspect', `${NAME}.csv`]],
    ['an option', ['run', 'demo', `--${NAME}`]],
  ])('where it is %s that the person gave', (_, args) => {
    const { status, stdout, stderr } = cistern(args, { cwd: folderWith({}) });
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toContain('⟨U+202E⟩');
    expect(stderr).not.toMatch(UNSEEN);
  });

  it('on the card of a file, and as an escape of the same value for machines', async () => {
    const header = `Time,${quoted('ICP (mmHg)')},${quoted('a\u202eb\u2066')}`;
    const csv = `${header}\n2031-02-11 20:00:00,12,1\n2031-02-11 20:01:00,13,1\n`;
    const folder = folderWith({ 'x\u202e.csv': csv });
    const card = await commandLine(['inspect', 'x\u202e.csv'], folder);
    expect(card.stdout).toContain('a⟨U+202E⟩b⟨U+2066⟩');
    expect(card.stdout).not.toMatch(UNSEEN);
    const json = await commandLine(['inspect', 'x\u202e.csv', '--json'], folder);
    expect(json.stdout).not.toMatch(UNSEEN);
    expect(JSON.parse(json.stdout)[0].columns[2].header).toBe('a\u202eb\u2066');
  });

  it('in the log for machines', async () => {
    const files = { 'unit.yaml': BY_COLUMN, 'exports/a.csv': withPatient(NAME) };
    const args = ['run', 'unit.yaml', '--threads', '1', '--json-log'];
    const { stderr } = await commandLine(args, folderWith(files));
    expect(stderr).not.toMatch(UNSEEN);
    const lines = stderr
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line) as { patient?: string });
    expect(lines.map(({ patient }) => patient)).toContain(NAME);
  });
});

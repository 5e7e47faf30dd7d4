import { spawnSync } from 'node:child_process';
import { symlink } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { findExports } from '../../src/ingest/find-exports.js';
import { type Files, inFolder, problemOf } from './support.js';

/** The names of what the entries mean in a folder that holds these (empty) files. */
const namesOf = (names: readonly string[], ...entries: string[]): Promise<string[]> =>
  inFolder(empty(names), async (folder) => (await findExports(entries, folder)).map(({ name }) => name));

const empty = (names: readonly string[]): Files => Object.fromEntries(names.map((name) => [name, '']));

const refusal = (names: readonly string[], ...entries: string[]): Promise<string> =>
  inFolder(empty(names), (folder) => problemOf(() => findExports(entries, folder)));

describe('exports that are a folder', () => {
  test('mean all CSV in it and below, sorted by name', async () => {
    const names = ['in/b.csv', 'in/a.csv.gz', 'in/night 1/c.csv', 'in/B.csv', 'elsewhere.csv'];
    expect(await namesOf(names, 'in')).toEqual(['B.csv', 'a.csv.gz', 'b.csv', 'night 1/c.csv']);
  });

  test('find an ending in whatever case', async () => {
    const names = ['in/a.CSV', 'in/b.Csv', 'in/c.csv.GZ', 'in/d.CSV.gz'];
    expect(await namesOf(names, 'in')).toEqual(['a.CSV', 'b.Csv', 'c.csv.GZ', 'd.CSV.gz']);
  });

  test('leave other and hidden files alone', async () => {
    const names = ['in/a.csv', 'in/a.txt', 'in/a.csv.bak', 'in/acsv', 'in/.a.csv', 'in/.trash/b.csv'];
    expect(await namesOf(names, 'in')).toEqual(['a.csv']);
  });

  test('may have brackets, braces, stars and blanks in their name', async () => {
    for (const folder of ['[ward] 4', 'ward (4)', '{ward}', 'ward*', 'ward?', '!ward', 'w\u00e5rd']) {
      expect(await namesOf([`${folder}/a.csv`], folder)).toEqual(['a.csv']);
    }
  });

  test('are refused where they hold no CSV', async () => {
    expect(await refusal(['in/a.txt'], 'in')).toBe(
      'the folder in holds no .csv or .csv.gz file (links in it are not followed). Look at exports in the pipeline file, or at --data.',
    );
  });

  test('never lead out of the folder by a link to a file or to a folder', async () => {
    await inFolder(empty(['in/a.csv', 'out/secret.csv']), async (folder) => {
      await symlink(join(folder, 'out'), join(folder, 'in/b'));
      await symlink(join(folder, 'out/secret.csv'), join(folder, 'in/c.csv'));
      await symlink('nowhere', join(folder, 'in/d.csv'));
      await symlink('e.csv', join(folder, 'in/e.csv'));
      await symlink(join(folder, 'in'), join(folder, 'in/again'));
      for (const entry of ['in', 'in/*', 'in/**', 'in/**/*.csv']) {
        expect((await findExports([entry], folder)).map(({ name }) => name)).toEqual(['a.csv']);
      }
    });
  });
});

describe('exports that are a file', () => {
  test('may have any ending, and are named without their folder', async () => {
    expect(await namesOf(['in/a.txt', 'in/b'], 'in/a.txt', './in/b')).toEqual(['a.txt', 'b']);
  });

  test('may have brackets in their name', async () => {
    for (const name of ['a (1).csv', 'a[1].csv', 'a{1}.csv', 'a*.csv', '!a.csv']) {
      expect(await namesOf([name], name)).toEqual([name]);
    }
  });

  test('may be a link, which was then meant', async () => {
    await inFolder(empty(['out/a.csv', 'in/b.csv']), async (folder) => {
      await symlink(join(folder, 'out/a.csv'), join(folder, 'in/c.csv'));
      expect((await findExports(['in/c.csv'], folder)).map(({ name }) => name)).toEqual(['c.csv']);
    });
  });

  test('are refused where there is none', async () => {
    expect(await refusal([], 'in/a.csv')).toBe(
      'there is no file or folder in/a.csv. Look at exports in the pipeline file, or at --data.',
    );
  });

  test('are refused where one is there and the next is not', async () => {
    expect(await refusal(['a.csv'], 'a.csv', 'b.csv')).toBe(
      'there is no file or folder b.csv. Look at exports in the pipeline file, or at --data.',
    );
  });

  test('are refused where the name is written for another system', async () => {
    expect(await refusal(['in/a.csv'], 'C:\\in\\*.csv')).toBe(
      'there is no file or folder C:\\in\\*.csv. Look at exports in the pipeline file, or at --data.',
    );
  });

  test('are refused where the name is a pipe, which can be read only once', async () => {
    await inFolder({}, async (folder) => {
      expect(spawnSync('mkfifo', [join(folder, 'a.csv')]).status).toBe(0);
      expect(await problemOf(() => findExports(['a.csv'], folder))).toBe(
        'a.csv is neither a file nor a folder. Look at exports in the pipeline file, or at --data.',
      );
    });
  });

  test('are refused in one line, whatever the name holds', async () => {
    expect(await refusal([], 'a\n\u2028b.csv')).toBe(
      'there is no file or folder a b.csv. Look at exports in the pipeline file, or at --data.',
    );
  });
});

describe('exports that are a pattern', () => {
  const names = ['in/a.csv', 'in/b.txt', 'in/sub/c.csv', 'in/sub/d.csv/e.csv'];

  test('are named below the last folder without a wildcard', async () => {
    expect(await namesOf(names, 'in/*.csv')).toEqual(['a.csv']);
    expect(await namesOf(names, 'in/**/*.csv')).toEqual(['a.csv', 'sub/c.csv', 'sub/d.csv/e.csv']);
    expect(await namesOf(names, '*/*.txt')).toEqual(['in/b.txt']);
    expect(await namesOf(names, './in/{a,b}.*')).toEqual(['a.csv', 'b.txt']);
  });

  test('mean files alone, though a folder fits', async () => {
    expect(await namesOf(names, 'in/sub/*.csv')).toEqual(['c.csv']);
  });

  test('may start at the root', async () => {
    await inFolder(empty(names), async (folder) => {
      const found = await findExports([join(folder, 'in/*.csv')], '/');
      expect(found).toEqual([{ path: join(folder, 'in/a.csv'), name: 'a.csv' }]);
    });
  });

  test('are refused where nothing fits', async () => {
    expect(await refusal(names, 'in/*.xlsx')).toBe(
      'there is no file or folder in/*.xlsx. Look at exports in the pipeline file, or at --data.',
    );
    expect(await refusal(names, '!in/a.csv')).toContain('there is no file or folder !in/a.csv.');
  });
});

describe('several exports', () => {
  test('give each file once', async () => {
    expect(await namesOf(['a.csv', 'b.csv'], '.', 'a.csv', './a.csv', '*.csv')).toEqual(['a.csv', 'b.csv']);
  });

  test('are told apart by their folders where their names would be the same', async () => {
    const names = ['w1/a/7.csv', 'w2/a/7.csv', 'w2/8.csv'];
    expect(await namesOf(names, 'w1', 'w2')).toEqual(['8.csv', 'w1/a/7.csv', 'w2/a/7.csv']);
    expect(await namesOf(names, 'w1/a/7.csv', 'w2/a/7.csv')).toEqual(['w1/a/7.csv', 'w2/a/7.csv']);
  });

  test('come in the same order, however they are listed', async () => {
    const names = ['b/1.csv', 'a/2.csv', 'a/1.csv'];
    expect(await namesOf(names, 'b', 'a')).toEqual(await namesOf(names, 'a', 'b'));
  });

  test('have names of one line, which is what messages show', async () => {
    expect(await namesOf(['in/a\nb.csv'], 'in')).toEqual(['a b.csv']);
  });
});

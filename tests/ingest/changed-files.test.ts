import { spawnSync } from 'node:child_process';
import { appendFileSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ingestGroup } from '../../src/ingest/ingest.js';
import { readUnchanged } from '../../src/ingest/read-unchanged.js';
import { DEFAULT_MISSING } from '../../src/ingest/settings.js';
import { Problem } from '../../src/recording/problem.js';
import { folderWith, newFolder, nightCsv } from '../support/cistern.js';

const SETTINGS = { zone: 'UTC', columns: {}, missing: DEFAULT_MISSING };
const csv = nightCsv((minute) => 12 + (minute % 2));

/** A file that something happens to while it is read. */
function readWhile(happens: (path: string) => void, fault?: Error): Promise<{ bytes: number }> {
  const path = join(folderWith({ '1.csv': csv }), '1.csv');
  const bytes = statSync(path).size;
  return readUnchanged({ path, name: '1.csv' }, async () => {
    happens(path);
    if (fault) throw fault;
    return { bytes };
  });
}

const WAIT = 'Wait until the export is finished, then run again.';

describe('a file that changes while it is read fails', () => {
  it.each<[string, (path: string) => void, string]>([
    [
      'where it grows',
      (path) => appendFileSync(path, 'x'),
      `${csv.length} bytes before, ${csv.length + 1} after`,
    ],
    [
      'where other content takes its place',
      (path) => {
        writeFileSync(path, csv.replace('12', '13'));
        utimesSync(path, 1, 1);
      },
      'other content of the same size',
    ],
    ['where it goes', (path) => rmSync(path), 'it is gone now'],
  ])('%s', async (_, happens, sizes) => {
    const sentence = `1.csv: the file changed while it was read (${sizes}). ${WAIT}`;
    await expect(readWhile(happens)).rejects.toThrow(sentence);
    // What the half of it looked like is not what is wrong with it.
    await expect(readWhile(happens, new Problem('a row breaks off', 'Mend it.'))).rejects.toThrow(sentence);
  });

  it('where more was read than it had held', async () => {
    const path = join(folderWith({ '1.csv': csv }), '1.csv');
    await expect(
      readUnchanged({ path, name: '1.csv' }, () => Promise.resolve({ bytes: csv.length + 7 })),
    ).rejects.toThrow('1.csv: the file changed while it was read');
  });

  it('alone, while an export is written on', async () => {
    const rows = csv.slice(csv.indexOf('\n') + 1);
    const folder = folderWith({ '1.csv': csv + rows.repeat(200), '2.csv': csv });
    const path = join(folder, '1.csv');
    const writing = setInterval(() => appendFileSync(path, rows), 1);
    const read = (name: string) =>
      ingestGroup(
        { id: name, files: [{ path: join(folder, `${name}.csv`), name: `${name}.csv` }] },
        SETTINGS,
      );
    const [[growing], [whole]] = await Promise.all([read('1'), read('2')]).finally(() =>
      clearInterval(writing),
    );
    expect(growing.problem).toMatch(
      /^1\.csv: the file changed while it was read \(\d+ bytes before, \d+ after\)\. Wait until the export is finished, then run again\.$/,
    );
    expect([growing.recording, growing.rowsRead > 0]).toEqual([null, true]);
    expect(whole.problem).toBe(null);
  });
});

describe('a file that stays as it is', () => {
  it('is read, and what was wrong with it is told', async () => {
    expect(await readWhile(() => {})).toEqual({ bytes: csv.length });
    await expect(readWhile(() => {}, new Problem('a row breaks off', 'Mend it.'))).rejects.toThrow(
      'Mend it.',
    );
  });
});

describe('what only looks like a file', () => {
  const problemOf = async (path: string): Promise<string | null> =>
    (await ingestGroup({ id: '1', files: [{ path, name: '1.csv' }] }, SETTINGS))[0].problem;

  // Reading one would wait for ever.
  it('a pipe is told of', async () => {
    const path = join(newFolder(), '1.csv');
    expect(spawnSync('mkfifo', [path]).status).toBe(0);
    expect(await problemOf(path)).toBe(
      '1.csv: a pipe or a device stands where the file was. Export it again, or look at its name and folder.',
    );
  });

  it('a folder is told of', async () => {
    expect(await problemOf(newFolder())).toBe(
      '1.csv: the file cannot be read (EISDIR). Look at its permissions, or copy it again.',
    );
  });

  it('a file that is gone is told of', async () => {
    expect(await problemOf(join(newFolder(), '1.csv'))).toBe(
      '1.csv: there is no such file. Look at its name and folder.',
    );
  });
});

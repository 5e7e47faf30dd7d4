import { spawnSync } from 'node:child_process';
import { mkdirSync, readdirSync, rmSync, statfsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cistern, newFolder } from '../support/cistern.js';
import { unitOf } from '../support/unit.js';

const disk = join(newFolder(), 'disk');
const folder = unitOf(6);
/** Mounting takes root: this process, or sudo where it asks for no password, as installing what the tests need does. */
const AS_ROOT = process.getuid?.() === 0 ? [] : ['sudo', '-n'];
const asRoot = (...words: readonly string[]): boolean => {
  const [command, ...args] = [...AS_ROOT, ...words];
  return spawnSync(command, args).status === 0;
};

const run = () =>
  cistern(['run', 'unit.yaml', '--out', join(disk, 'report'), '--threads', '2'], { cwd: folder });

describe('a disk', () => {
  const filler = join(disk, 'filler');
  /** Leaves so many bytes free. */
  const fill = (free: number): void => {
    const { bavail, bsize } = statfsSync(disk);
    writeFileSync(filler, Buffer.alloc(bavail * bsize - free));
  };

  beforeAll(() => {
    mkdirSync(disk);
    const isMounted = asRoot('mount', '-t', 'tmpfs', '-o', 'size=2m', 'tmpfs', disk);
    if (!isMounted) {
      throw new Error(
        'No small disk can be mounted here, so nobody has tried a full or a read-only one: run the tests as root, or allow sudo without a password.',
      );
    }
    expect(readdirSync(disk)).toEqual([]);
  });
  afterAll(() => {
    asRoot('umount', disk);
  });

  it.each([
    ['from the first', 0],
    ['once some is written', 120_000],
    ['once most is written', 400_000],
  ])('that is full %s takes no half report', (_, free) => {
    fill(free);
    const { status, stdout, stderr } = run();
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toMatch(
      /^cistern: the (?:folder|report) .*cannot be written .*\(ENOSPC: the disk is full\)\. (?:Make room there, then run again\. Nothing was changed there|Choose another with --out)\.\n$/,
    );
    expect(readdirSync(disk).filter((name) => name !== '.report.store')).toEqual(['filler']);
    rmSync(filler);
  });

  it('with room again takes the report, of the patients that were kept', () => {
    const { status, stdout } = run();
    expect(status).toBe(0);
    expect(stdout).toMatch(/6 patients: [0-5] read anew, [1-6] as (?:they were|it was) stored/);
    expect(readdirSync(disk).sort()).toEqual(['.report.store', 'report']);
  });

  it('that is read-only is told of, and the report on it stays', () => {
    expect(asRoot('mount', '-o', 'remount,ro', disk)).toBe(true);
    const { status, stdout, stderr } = run();
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toBe(
      `cistern: the folder ${join(disk, 'report')} cannot be written (EROFS: the disk is read-only). Choose another with --out.\n`,
    );
    expect(readdirSync(disk).sort()).toEqual(['.report.store', 'report']);
  });
});

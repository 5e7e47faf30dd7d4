import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { folderWith } from '../support/cistern.js';
import { bundledPackages } from './bundled-packages.js';
import { isNeeded } from './is-needed.js';
import { type Licensed, licenceFiles, thirdPartyList } from './licences.js';
import { refuseUncommitted } from './refuse-uncommitted.js';

/** A project with one package in its lock file and node_modules. */
const project = (manifest: object, files: Readonly<Record<string, string>> = {}, lock: object = {}): string =>
  folderWith({
    'package-lock.json': JSON.stringify({
      packages: { '': {}, 'node_modules/one': { version: '1.0.0', ...lock } },
    }),
    'node_modules/one/package.json': JSON.stringify({ name: 'one', version: '1.0.0', ...manifest }),
    ...Object.fromEntries(Object.entries(files).map(([name, text]) => [`node_modules/one/${name}`, text])),
  });

describe('what goes into a release', () => {
  it('is what is needed at run time on any machine', () => {
    expect(bundledPackages(project({}, { 'index.js': '' }))).toMatchObject([
      { path: 'node_modules/one', files: ['index.js', 'package.json'] },
    ]);
    for (const key of ['dev', 'optional', 'devOptional']) {
      expect(bundledPackages(project({}, {}, { [key]: true }))).toEqual([]);
    }
  });

  it('is refused where node_modules is not what the lock file says', () => {
    expect(() => bundledPackages(project({ version: '1.0.1' }))).toThrow(
      'node_modules/one has version 1.0.1, and package-lock.json asks for 1.0.0. Run "npm ci", then make the release',
    );
  });

  it('is refused where a package has to be built', () => {
    expect(() => bundledPackages(project({ scripts: { postinstall: 'make' } }, { 'a.node': '' }))).toThrow(
      'node_modules/one is built when it is installed (postinstall, a.node), so a release with it would run on one kind of machine only. Take a package that is JavaScript alone',
    );
  });

  it.each([
    ['dist/index.js', true],
    ['src/index.js', true],
    ['types/index.d.ts', true],
    ['LICENSE.md', true],
    ['dist/named.min.js', true],
    ['dist/other.min.js', false],
    ['dist/index.js.map', false],
    ['README.md', false],
    ['src/index.ts', false],
    ['test/index.js', false],
    ['.editorconfig', false],
  ])('of a package is %s: %s', (name, needed) => {
    const manifest = { name: 'one', version: '1.0.0', main: './dist/named.min.js' };
    expect(isNeeded(name, manifest)).toBe(needed);
  });
});

describe('licences', () => {
  const MIT =
    'Permission is hereby granted, free of charge, to any\nperson obtaining a copy of this software';
  const licensed = (licence: unknown, text?: string): Licensed => ({
    path: 'node_modules/one',
    name: 'one',
    version: '1.0.0',
    licence,
    texts: text === undefined ? [] : [{ file: 'LICENSE', text }],
  });
  const ALLOWED =
    'Allowed are MIT, ISC, 0BSD, BSD-2-Clause, BSD-3-Clause, Apache-2.0, Unlicense, with the text in the package; take another package';

  it('are taken from a README only where no other file tells them', () => {
    expect(licenceFiles(['README.md', 'lib/readme.md', 'index.js'])).toEqual(['README.md']);
    expect(licenceFiles(['README.md', 'LICENSE-MIT', 'index.js'])).toEqual(['LICENSE-MIT']);
  });

  it('are listed with their texts', () => {
    expect(thirdPartyList([licensed('MIT', MIT)])).toContain(
      '| one | 1.0.0 | MIT | [LICENSE](node_modules/one/LICENSE) |\n',
    );
  });

  it.each([
    [licensed('GPL-3.0-only', 'text'), 'node_modules/one is under "GPL-3.0-only"'],
    [licensed('toString', 'text'), 'node_modules/one is under "toString"'],
    [licensed(undefined, MIT), 'node_modules/one is under no licence that it names'],
    [licensed('MIT'), 'node_modules/one has no file with its licence (MIT)'],
    [licensed('ISC', MIT), 'node_modules/one is said to be under ISC, and its text reads otherwise'],
  ])('are refused: %#', (one, fault) => {
    expect(() => thirdPartyList([licensed('MIT', MIT), one])).toThrow(
      `These packages cannot be given away with a release: ${fault}. ${ALLOWED}`,
    );
  });
});

describe('a release of no commit', () => {
  const FIX = 'Commit it or take it away; "npm run release -- --uncommitted" makes a tarball for a trial';
  const git = (cwd: string, ...args: string[]) => {
    const as = ['-c', 'user.name=maintainers', '-c', 'user.email=maintainers@example.invalid'];
    expect(spawnSync('git', [...as, ...args], { cwd }).status).toBe(0);
  };

  it('is refused, and names what is changed, new or ignored', () => {
    const folder = folderWith({ 'src/a.ts': '1', '.gitignore': '*.log\n', 'notes.txt': '' });
    git(folder, 'init', '-q');
    git(folder, 'add', 'src', '.gitignore');
    git(folder, 'commit', '-q', '-m', 'Begin');
    expect(() => refuseUncommitted(folder, ['src'])).not.toThrow();
    for (const name of ['a.ts', 'b.ts', 'c.log']) writeFileSync(join(folder, 'src', name), '2');
    expect(() => refuseUncommitted(folder, ['src'])).toThrow(
      `Not as committed: src/a.ts, src/b.ts, src/c.log. ${FIX}`,
    );
  });

  it('is refused where there are no commits to ask', () => {
    expect(() => refuseUncommitted(folderWith({ 'src/a.ts': '1' }), ['src'])).toThrow(
      /^Nobody can say which commit this would be a release of \(fatal: not a git repository.*\)\. Commit it/,
    );
  });
});

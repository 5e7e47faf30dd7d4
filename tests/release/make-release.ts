import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  copyFileSync,
  cpSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { Problem } from '../../src/recording/problem.js';
import { type BundledPackage, bundledPackages } from './bundled-packages.js';
import { isNeeded } from './is-needed.js';
import { APACHE_TEXT, licenceFiles, thirdPartyList } from './licences.js';
import { npm } from './npm.js';
import { refuseUncommitted } from './refuse-uncommitted.js';
import { type ProjectManifest, releaseManifest } from './release-manifest.js';

/** What a release is made of, beside what is compiled. */
const TEXTS = ['README.md', 'LICENSE'];
const MADE_OF = [
  'src',
  'package.json',
  'package-lock.json',
  'tsconfig.json',
  'tests/release',
  'tests/tools',
  ...TEXTS,
];
const COMPILED = 'dist';

export interface ReleaseOptions {
  /** The project's folder. */
  readonly root: string;
  /** The folder that the tarball is written to. */
  readonly into: string;
  /** Takes files as they are, committed or not: for a trial. */
  readonly uncommitted: boolean;
}

/**
 * Makes the tarball of a release: the program, compiled anew, its pipelines and demo data, and all packages that it needs
 * at run time, so that it installs without a network and without running a script. The same commit gives the same bytes
 * with the same Node and npm.
 *
 * @returns the tarball's path
 * @throws Problem where the result would not be what was committed, would not run everywhere or may not be given away
 */
export function makeRelease({ root, into, uncommitted }: ReleaseOptions): string {
  const project = readJson(join(root, 'package.json')) as ProjectManifest;
  const copied = project.files.filter((name) => name !== COMPILED);
  if (!uncommitted) refuseUncommitted(root, [...MADE_OF, ...copied]);
  const packages = bundledPackages(root);
  const stage = mkdtempSync(join(tmpdir(), 'cistern-release-'));
  try {
    writeJson(join(stage, 'package.json'), releaseManifest(project, packages));
    writeFileSync(join(stage, 'THIRD-PARTY.md'), thirdPartyList(packages.map((one) => licensed(root, one))));
    // The compiler stands under it and carries the whole of it.
    copyFileSync(join(root, 'node_modules/typescript/LICENSE.txt'), join(stage, APACHE_TEXT));
    for (const name of [...TEXTS, ...copied])
      cpSync(join(root, name), join(stage, name), { recursive: true });
    for (const one of packages) stagePackage(root, stage, one);
    compile(root, join(stage, COMPILED));
    evenModes(stage);
    return pack(stage, into);
  } finally {
    rmSync(stage, { recursive: true, force: true });
  }
}

const readJson = (path: string): unknown => JSON.parse(readFileSync(path, 'utf8'));
const writeJson = (path: string, value: unknown): void =>
  writeFileSync(path, `${JSON.stringify(value, null, 2)}\n`);

const licensed = (root: string, { path, manifest, files }: BundledPackage) => ({
  path,
  name: manifest.name,
  version: manifest.version,
  licence: manifest.license,
  texts: licenceFiles(files).map((file) => ({ file, text: readFileSync(join(root, path, file), 'utf8') })),
});

function stagePackage(root: string, stage: string, { path, manifest, files }: BundledPackage): void {
  const told = new Set(licenceFiles(files));
  for (const name of files.filter((file) => told.has(file) || isNeeded(file, manifest))) {
    const target = join(stage, path, name);
    mkdirSync(dirname(target), { recursive: true });
    copyFileSync(join(root, path, name), target);
  }
  // npm would fetch what is optional and not inside.
  const { optionalDependencies, ...rest } = manifest;
  if (optionalDependencies !== undefined) writeJson(join(stage, path, 'package.json'), rest);
}

/** Not the `dist` that is there: it may be old, and hold what has no source any more. */
function compile(root: string, folder: string): void {
  const compiler = createRequire(join(root, 'package.json')).resolve('typescript/bin/tsc');
  const { status, stdout } = spawnSync(
    process.execPath,
    [compiler, '-p', 'src', '--outDir', folder, '--sourceMap', 'false'],
    { cwd: root, encoding: 'utf8' },
  );
  if (status !== 0) throw new Problem(`The program does not compile: ${stdout.trim()}`, 'Mend that first');
}

/** Modes go into the tarball; those of a copy hang on who made it and how. */
function evenModes(folder: string): void {
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    chmodSync(join(entry.parentPath, entry.name), entry.isDirectory() ? 0o755 : 0o644);
  }
}

function pack(stage: string, into: string): string {
  mkdirSync(into, { recursive: true });
  const args = ['pack', '--json', '--offline', '--ignore-scripts', '--pack-destination', into];
  const { status, stdout, stderr } = npm('npm', args, stage);
  if (status !== 0) throw new Problem(`npm pack failed: ${stderr?.trim()}`, 'Look whether npm is installed');
  const [{ filename }] = JSON.parse(stdout) as [{ filename: string }];
  return join(into, filename);
}

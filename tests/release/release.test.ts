import { execFile } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, realpathSync, rmSync } from 'node:fs';
import { homedir, tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { promisify } from 'node:util';
import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { newFolder, ROOT } from '../support/cistern.js';
import { differences, filesBelow } from '../support/compare-folders.js';
import { npm } from './npm.js';

const { version } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as { version: string };
const TRIAL = ['--import', 'tsx', 'tests/tools/release.ts', '--uncommitted', '--out'];

/** Makes the tarball with a zone, a mask of modes and a place for temporary files of its own; gives its path. */
async function release(place: string, TZ: string, umask: string): Promise<string> {
  const [out, TMPDIR] = [join(place, 'out'), join(place, 'tmp')];
  mkdirSync(TMPDIR, { recursive: true });
  const script = `umask ${umask} && exec "$0" "$@"`;
  await promisify(execFile)('sh', ['-c', script, process.execPath, ...TRIAL, out], {
    cwd: ROOT,
    env: { ...process.env, TZ, TMPDIR },
  });
  return join(out, `cistern-${version}.tgz`);
}

/** Paths below a folder of the packages that npm finds installed there, sorted. */
function installed(folder: string, ...options: string[]): string[] {
  const { stdout } = npm('npm', ['ls', '--all', '--parseable', ...options], folder);
  return stdout
    .split('\n')
    .map((path) => relative(realpathSync(folder), path))
    .filter((path) => path.startsWith('node_modules'))
    .sort();
}

describe('a release', () => {
  let bytes: Buffer;
  let again: Buffer;
  const top = newFolder();
  /** Where nothing but the tarball was. */
  let folder: string;
  let inside: string;

  beforeAll(async () => {
    const [one, other] = await Promise.all([
      release(join(top, 'one'), 'UTC', '022'),
      release(join(top, 'other'), 'Pacific/Chatham', '077'),
    ]);
    [bytes, again] = [readFileSync(one), readFileSync(other)];
    folder = join(top, 'empty');
    mkdirSync(folder);
    inside = join(folder, 'node_modules/cistern');
    const install = ['install', '--offline', '--ignore-scripts', '--cache', join(top, 'cache'), one];
    const { status, stderr } = npm('npm', install, folder);
    expect(status, stderr).toBe(0);
  }, 600_000);

  afterAll(() => rmSync(top, { recursive: true, force: true }));

  it('has the same bytes when it is made again', () => {
    expect(bytes.equals(again)).toBe(true);
  });

  it('runs the demo in a folder where nothing else is (see reports/release-differences if not)', () => {
    const { status, stdout } = npm('npx', ['--no-install', 'cistern', 'run', 'demo'], folder);
    expect(stdout).toContain('Open reports/demo/index.html');
    expect(status).toBe(0);
    const [demo, keep] = [join(ROOT, 'reports/demo'), join(ROOT, 'reports/release-differences')];
    expect(differences(join(folder, 'reports/demo'), demo, keep)).toEqual([]);
  });

  it('tells its version and its commands', () => {
    expect(npm('npx', ['--no-install', 'cistern', '--version'], folder)).toMatchObject({
      status: 0,
      stdout: `${version}\n`,
    });
    const help = npm('npx', ['--no-install', 'cistern', '--help'], folder);
    expect(help.status).toBe(0);
    for (const command of ['run', 'check', 'inspect']) expect(help.stdout).toMatch(`\n  ${command} `);
  });

  // Outside check: npm's own reckoning of what the project needs at run time.
  it('holds the packages that it needs, and no other', () => {
    // Optional: a native way to lower the priority of threads, which the program does not ask for.
    const needed = installed(ROOT, '--omit=dev').filter((path) => !path.includes('@napi-rs/'));
    expect(needed.length).toBeGreaterThan(50);
    const prefix = 'node_modules/cistern';
    expect(installed(folder)).toEqual([prefix, ...needed.map((path) => `${prefix}/${path}`)].sort());
    expect(npm('npm', ['ls', '--all'], folder)).toMatchObject({ status: 0, stderr: '' });
  });

  it('has a package.json that leads to nothing outside', () => {
    const manifest = JSON.parse(readFileSync(join(inside, 'package.json'), 'utf8'));
    expect(manifest.private).toBe(true);
    expect(manifest.bundleDependencies).toEqual(Object.keys(manifest.dependencies));
    for (const key of ['scripts', 'overrides', 'devDependencies']) expect(manifest).not.toHaveProperty(key);
  });

  it('names each package and its licence, and carries the text', () => {
    const list = readFileSync(join(inside, 'THIRD-PARTY.md'), 'utf8');
    const texts = [...list.matchAll(/\]\(([^)]+)\)/g)].map(([, path]) => path);
    expect(texts.filter((path) => !existsSync(join(inside, path)))).toEqual([]);
    const packages = installed(folder).slice(1);
    const unnamed = packages.filter((path) => {
      const own = JSON.parse(readFileSync(join(folder, path, 'package.json'), 'utf8'));
      const below = relative(inside, join(folder, path));
      return (
        !list.includes(`| ${own.name} | ${own.version} | `) ||
        !texts.some((text) => text.startsWith(`${below}/`))
      );
    });
    expect(unnamed).toEqual([]);
    expect(readFileSync(join(inside, 'APACHE-2.0.txt'), 'utf8')).toContain('END OF TERMS AND CONDITIONS');
  });

  it('holds pipelines and demo data, and no reports, tests, source maps or sources', () => {
    const own = filesBelow(inside).filter((name) => !name.startsWith('node_modules'));
    expect(own).toContain('pipelines/demo.yaml');
    expect(own).toContain('fixtures/demo-unit/truth.json');
    const expected =
      /^(?:dist\/.+\.(?:[cm]?js|d\.[cm]?ts)|pipelines\/(?:cluster\/)?[^/]+|fixtures\/(?:audit|demo|perfusion|study)-unit\/.+|src\/report\/results\.schema\.json|README\.md|LICENSE|THIRD-PARTY\.md|APACHE-2\.0\.txt|package\.json)$/;
    expect(own.filter((name) => !expected.test(name))).toEqual([]);
    expect(filesBelow(inside).filter((name) => /\.(?:map|node)$/.test(name))).toEqual([]);
  });

  it('tells nothing of the machine that made it', () => {
    const unpacked = gunzipSync(bytes);
    const places = [
      ...['src/', 'dist/', 'tests/', 'node_modules/', 'package'].map((name) => ROOT + name),
      join(realpathSync(tmpdir()), 'cistern-'),
      'cistern-release-',
      join(homedir(), '.npm'),
    ];
    expect(unpacked.includes('package/dist/command-line/main.js')).toBe(true);
    expect(places.filter((place) => unpacked.includes(place))).toEqual([]);
  });
});

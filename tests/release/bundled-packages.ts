import { readdirSync, readFileSync } from 'node:fs';
import { join, sep } from 'node:path';
import { Problem } from '../../src/recording/problem.js';

/** The keys of a package's own package.json that a release looks at. */
export interface Manifest {
  readonly name: string;
  readonly version: string;
  readonly license?: unknown;
  readonly main?: unknown;
  readonly module?: unknown;
  readonly exports?: unknown;
  readonly bin?: unknown;
  readonly types?: unknown;
  readonly scripts?: Readonly<Record<string, string>>;
  readonly optionalDependencies?: unknown;
}

/** A package that goes into the release. */
export interface BundledPackage {
  /** Below the package, with `/`: `node_modules/d3-dsv/node_modules/commander`. */
  readonly path: string;
  readonly manifest: Manifest;
  /** Below the package's folder, with `/`, sorted; without packages inside it. */
  readonly files: readonly string[];
}

interface LockEntry {
  readonly version: string;
  readonly dev?: boolean;
  readonly optional?: boolean;
  readonly devOptional?: boolean;
}

const AT_INSTALL = ['preinstall', 'install', 'postinstall'];

/**
 * The packages that the program needs at run time, as package-lock.json lists them and node_modules holds them.
 * Optional ones stay out: they are built for one machine, and the program runs without them.
 *
 * @param root the project's folder
 * @throws Problem where node_modules is not what the lock file says, or a package would have to be built at install
 */
export function bundledPackages(root: string): BundledPackage[] {
  const lock = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')) as {
    packages: Record<string, LockEntry>;
  };
  return Object.entries(lock.packages)
    .filter(([path, { dev, optional, devOptional }]) => path !== '' && !dev && !optional && !devOptional)
    .map(([path, { version }]) => bundledPackage(root, path, version))
    .sort((a, b) => (a.path < b.path ? -1 : 1));
}

function bundledPackage(root: string, path: string, version: string): BundledPackage {
  const manifest = manifestOf(join(root, path));
  if (manifest?.version !== version) {
    const found = manifest === null ? 'is not there' : `has version ${manifest.version}`;
    throw new Problem(
      `${path} ${found}, and package-lock.json asks for ${version}`,
      'Run "npm ci", then make the release',
    );
  }
  const files = filesOf(join(root, path));
  const built = [
    ...AT_INSTALL.filter((name) => name in (manifest.scripts ?? {})),
    ...files.filter((name) => name.endsWith('.node') || name === 'binding.gyp'),
  ];
  if (built.length > 0) {
    throw new Problem(
      `${path} is built when it is installed (${built.join(', ')}), so a release with it would run on one kind of machine only`,
      'Take a package that is JavaScript alone',
    );
  }
  return { path, manifest, files };
}

function manifestOf(folder: string): Manifest | null {
  try {
    return JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')) as Manifest;
  } catch {
    return null;
  }
}

const filesOf = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(folder.length + 1))
    .map((name) => name.split(sep).join('/'))
    .filter((name) => !name.startsWith('node_modules/'))
    .sort();

import type { BundledPackage } from './bundled-packages.js';
import { APACHE_TEXT } from './licences.js';

/** The keys of the project's package.json that a release looks at. */
export interface ProjectManifest {
  readonly name: string;
  readonly version: string;
  readonly files: readonly string[];
  readonly dependencies: Readonly<Record<string, string>>;
  readonly [key: string]: unknown;
}

/** They are for whoever works on the program; overrides are settled by what is inside. */
const LEFT_OUT = ['scripts', 'devDependencies', 'overrides'];

/**
 * The package.json of a release: it depends on what is inside it alone. `bundledVersions` lists that, so that the
 * identity of the program, which goes by this file, changes with any of it.
 */
export function releaseManifest(
  project: ProjectManifest,
  packages: readonly BundledPackage[],
): Readonly<Record<string, unknown>> {
  return {
    ...Object.fromEntries(Object.entries(project).filter(([key]) => !LEFT_OUT.includes(key))),
    files: [...project.files, 'THIRD-PARTY.md', APACHE_TEXT],
    bundleDependencies: Object.keys(project.dependencies),
    bundledVersions: Object.fromEntries(packages.map(({ path, manifest }) => [path, manifest.version])),
  };
}

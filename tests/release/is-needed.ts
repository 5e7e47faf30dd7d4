import type { Manifest } from './bundled-packages.js';
import { isLicenceFile } from './licences.js';

const IDLE = /^(?:(?:test|tests|test-jest|docs|benchmark|perf)\/|\.)/;
const SOURCE_MAP = /\.(?:map|tsbuildinfo)$/;
const PROSE = /\.(?:md|markdown)$/i;
/** Node runs no TypeScript; declarations stay for whoever uses the program as a library. */
const TYPESCRIPT = /(?<!\.d)\.[cm]?tsx?$/;
const FOR_BROWSERS = /\.min\.js$/;

/**
 * Whether a file of a bundled package is needed to run it, to type-check against it or to know its licence. Source maps,
 * prose, tests, settings of editors, TypeScript sources and shortened builds for browsers are not, unless the manifest names them as an entry.
 *
 * @param name below the package's folder, with `/`
 */
export function isNeeded(name: string, { main, module, exports, bin, types }: Manifest): boolean {
  if (isLicenceFile(name)) return true;
  if ([IDLE, SOURCE_MAP, PROSE, TYPESCRIPT, FOR_BROWSERS].every((one) => !one.test(name))) return true;
  return JSON.stringify([main, module, exports, bin, types]).includes(`${name}"`);
}

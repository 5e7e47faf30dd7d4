/** What `inspect` says of each case in `fixtures/exports/cases`, one text a case in `fixtures/exports/cards`: `npm run cards` writes them anew. */
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { findExports } from '../../src/ingest/find-exports.js';
import { DEFAULT_MISSING, type IngestSettings } from '../../src/ingest/settings.js';
import { inspectFile } from '../../src/pipeline/inspect-file.js';
import { inspectionCard } from '../../src/report/inspect/card.js';

export const CASES = fileURLToPath(new URL('../../fixtures/exports/cases/', import.meta.url));

/** Logs and tables, each a case of one file. */
const LOGS = fileURLToPath(new URL('../../fixtures/exports/logs/', import.meta.url));
export const CARDS = fileURLToPath(new URL('../../fixtures/exports/cards/', import.meta.url));

/** Names of all cases: folders of exports, and files of logs and tables. */
export const caseNames = (): string[] => [
  ...readdirSync(CASES, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => name)
    .sort(),
  ...readdirSync(LOGS)
    .filter((name) => name.endsWith('.csv'))
    .map((name) => name.replace('.csv', ''))
    .sort(),
];

function settingsOf(folder: string): Partial<IngestSettings> {
  try {
    return JSON.parse(readFileSync(join(folder, 'settings.json'), 'utf8')) as Partial<IngestSettings>;
  } catch {
    return {};
  }
}

/** The cards of all files of a case, one behind the other. */
export async function cardsOf(name: string): Promise<string> {
  const folder = join(CASES, name);
  const given = settingsOf(folder);
  const settings = {
    zone: 'UTC',
    columns: {},
    ...given,
    missing: [...DEFAULT_MISSING, ...(given.missing ?? [])],
    zoneIsGiven: given.zone !== undefined,
  };
  const cards: string[] = [];
  const isLog = !existsSync(folder);
  const files = isLog ? await findExports([`${name}.csv`], LOGS) : await findExports(['.'], folder);
  for (const file of files) cards.push(inspectionCard(await inspectFile(file, settings)));
  return cards.join('\n');
}

if (process.argv[1] && fileURLToPath(import.meta.url) === process.argv[1]) {
  rmSync(CARDS, { recursive: true, force: true });
  mkdirSync(CARDS);
  for (const name of caseNames()) writeFileSync(join(CARDS, `${name}.txt`), await cardsOf(name));
}

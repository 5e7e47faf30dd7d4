import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import {
  type CaseSettings,
  type Expected,
  type ExpectedPatient,
  exportCases,
  filesOf,
} from '../../fixtures/generator/export-cases/index.js';
import { contentOf } from '../../fixtures/generator/export-cases/write.js';
import { findExports } from '../../src/ingest/find-exports.js';
import { groupByPatient } from '../../src/ingest/group-files.js';
import { type Ingested, ingestGroup } from '../../src/ingest/ingest.js';
import { DEFAULT_MISSING, type IngestSettings } from '../../src/ingest/settings.js';
import { settingsWith } from './support.js';

const CASES = fileURLToPath(new URL('../../fixtures/exports/cases/', import.meta.url));
const names = readdirSync(CASES).sort();

const jsonIn = <T>(path: string): T => JSON.parse(readFileSync(path, 'utf8')) as T;
const expectedOf = (name: string): Expected => jsonIn(`${CASES}${name}/expected.json`);

/** What a case's settings.json says, as the pipeline would hand it on. */
function settingsOf(name: string): IngestSettings {
  const path = `${CASES}${name}/settings.json`;
  const { missing = [], ...more } = existsSync(path) ? jsonIn<CaseSettings>(path) : {};
  return settingsWith({ ...(more as Partial<IngestSettings>), missing: [...DEFAULT_MISSING, ...missing] });
}

async function read(name: string): Promise<Ingested[]> {
  const settings = settingsOf(name);
  const { groups, unfit } = groupByPatient(await findExports(['.'], `${CASES}${name}`), settings);
  expect(unfit).toEqual([]);
  return (await Promise.all(groups.map((group) => ingestGroup(group, settings)))).flat();
}

const RELATIVE = 1e-9;
const isClose = (a: number, b: number): boolean => Math.abs(a - b) <= RELATIVE * Math.max(1, Math.abs(b));

/** The text that was expected where the text begins with it, so that a difference shows and agreement does not. */
const startOf = (text: string, expected: string | undefined): string =>
  expected !== undefined && text.startsWith(expected) ? expected : text;
const partOf = (text: string, expected: string | undefined): string =>
  expected !== undefined && text.includes(expected) ? expected : text;

/** The outcome in the words of an expected.json: what lies within the tolerance is written as expected. */
function inWordsOf(expected: ExpectedPatient | undefined, outcome: Ingested): ExpectedPatient {
  const { id, recording, problem, rowsRead, setAside, warnings, files, isStray } = outcome;
  const channels = Object.values(recording?.channels ?? {}).map(({ kind, signal }) => {
    const samples = [...signal.times].map((time, i): [string, number] => {
      const before = expected?.channels?.[kind]?.[i]?.[1];
      const value = signal.values[i];
      // Minutes and hours with decimals are right to their last digit only.
      return [
        new Date(Math.round(time)).toISOString(),
        before !== undefined && isClose(value, before) ? before : value,
      ];
    });
    return [kind, samples] as const;
  });
  const sources = Object.values(recording?.channels ?? {}).flatMap(({ kind, source }) =>
    source === null ? [] : [[kind, source] as const],
  );
  return {
    id,
    rowsRead,
    channels: recording ? Object.fromEntries(channels) : null,
    ...(problem === null ? {} : { problem }),
    setAside: setAside.map(({ file, line, rows, kind, reason }, i) => ({
      file,
      line,
      rows,
      kind,
      reason: startOf(reason, expected?.setAside?.[i]?.reason),
    })),
    warnings: warnings.map((warning, i) => partOf(warning, expected?.warnings?.[i])),
    sources: Object.fromEntries(sources),
    ...(expected?.leftAlone
      ? { leftAlone: files.flatMap((f) => f.leftAlone.map(({ header }) => header)) }
      : {}),
    isStray,
  };
}

/** An expected.json's patient with what it may leave out. */
const whole = (patient: ExpectedPatient): ExpectedPatient => ({
  isStray: false,
  warnings: [],
  sources: {},
  ...patient,
  setAside: (patient.setAside ?? []).map((entry) => ({ rows: 1, ...entry })),
});

describe('the export cases', () => {
  test('are 60 at least, and each says what it shows', () => {
    expect(names.length).toBeGreaterThanOrEqual(60);
    expect(names.filter((name) => !/\w+ \w+.*\.$/.test(expectedOf(name).about))).toEqual([]);
  });

  test('are those that the generator makes, byte for byte', () => {
    expect(names).toEqual(exportCases.map(({ name }) => name).sort());
    for (const one of exportCases) {
      const files = filesOf(one);
      expect(readdirSync(CASES + one.name).sort(), one.name).toEqual(Object.keys(files).sort());
      const other = Object.entries(files).filter(
        ([name, bytes]) => !contentOf(`${CASES}${one.name}/${name}`)?.equals(bytes),
      );
      expect(
        other.map(([name]) => name),
        `${one.name}: run "npm run fixtures"`,
      ).toEqual([]);
    }
  });

  test.each(names)('%s', async (name) => {
    const { about, patients } = expectedOf(name);
    const outcomes = await read(name);
    const found = outcomes.map((outcome) =>
      inWordsOf(
        patients.find(({ id }) => id === outcome.id),
        outcome,
      ),
    );
    expect(found, about).toEqual(patients.map(whole));
    for (const { setAside } of outcomes) {
      for (const { row, kind } of setAside) if (kind !== 'failed') expect(row, about).toBeTypeOf('string');
    }
  });
});

import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import Papa from 'papaparse';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runPipeline } from '../../../src/pipeline/run-pipeline.js';
import { shorten } from '../../../src/recording/problem.js';
import type { Results, UnitResults } from '../../../src/report/results-schema.js';
import type { StudyResult } from '../../../src/report/results-study.js';
import { safeText } from '../../../src/report/tables/csv.js';
import { visibleText } from '../../../src/report/visible-text.js';
import { openChromium } from '../../support/chromium.js';
import { folderWith } from '../../support/cistern.js';
import { readParquet } from '../../support/duckdb.js';
import { expectQuiet } from './check-page.js';
import { CLASSES, CORPUS } from './corpus.js';
import { asCell, asHeader, fileName } from './hostile-unit.js';
import { Window } from './look.js';

const quoted = (text: string): string => `"${text.replaceAll('"', '""')}"`;
const shown = (text: string): string => visibleText(text).replace(/\s+/g, ' ').trim();
const two = (n: number): string => String(n).padStart(2, '0');

/** Three hours from 08:00, a row a minute, of which some minutes of each hour are raised. */
const stay = (who: string, raised: number): string =>
  Array.from({ length: 180 }, (_, minute) => {
    const icp = (minute % 60 < raised ? 27 : 12 + (raised % 5)) + (minute % 3) / 10;
    return `2031-02-11 ${two(8 + Math.floor(minute / 60))}:${two(minute % 60)}:00,${who},${icp},85\n`;
  }).join('');

/** Headers of which none is alike another, nor known: what is left alone. */
const listedColumns = (texts: readonly string[]): string[] => texts.map((text) => `${asHeader(text)} ?`);

/** One table of patients a text, so that each is the name of a file, an id, a header, an outcome, a pupil and free text. */
function tableOf(text: string, i: number, texts: readonly string[], outcome: string): string {
  const header = [
    'Patient',
    'Age (years)',
    'Injury',
    'GCS motor',
    'CT',
    'Pupils',
    outcome,
    ...listedColumns(texts),
  ];
  const row = (id: string, age: string, gose: string): string =>
    [id, age, '2031-02-11 05:00', String(1 + (i % 6)), 'abnormal', text, gose, ...texts]
      .map(quoted)
      .join(',');
  return [
    header.map(quoted).join(','),
    row(text, String(30 + i), String(2 + ((i * 5) % 7))),
    row(`${text} (nobody)`, '50', '3'),
    row(`${text} (no outcome)`, '50', text),
    row(`${text} (no age)`, text, '3'),
    row(`${text} (absent)`, '50', '4'),
    '',
  ].join('\n');
}

interface Ran {
  /** The report folder. */
  readonly out: string;
  readonly unit: UnitResults;
}
type Patients = 'numbers' | 'pseudonyms';

const resultsIn = (out: string): Results & { study: StudyResult } =>
  JSON.parse(readFileSync(join(out, 'results.json'), 'utf8'));

/** A study whose patients, files, headers, cells, title and settings are texts. */
function studyOf(texts: readonly string[]): (patients: Patients) => Promise<Ran> {
  const outcome = asHeader(texts.join(' / '));
  const folder = folderWith({
    ...Object.fromEntries(
      texts.flatMap((text, i) => [
        [
          `exports/${fileName(text, i)}`,
          `Time,Who,ICP (mmHg),ABP mean (mmHg)\n${stay(quoted(text), (i * 7) % 25)}`,
        ],
        [`exports/broken ${fileName(text, i)}`, `Time,${quoted(`ICP (${text})`)}\n2031-02-11 20:00:00,12\n`],
        [`cohort/${fileName(text, i)}`, tableOf(text, i, texts, outcome)],
      ]),
    ),
  });
  return async (patients) => {
    const pipeline = folderWith({
      // JSON is YAML.
      'unit.yaml': JSON.stringify({
        title: patients === 'numbers' ? texts.join(' ') : 'Quiet',
        exports: join(folder, 'exports'),
        expected: texts.map((text) => `${text} (expected)`),
        timezone: 'Europe/Oslo',
        patient: { column: 'Who' },
        cohort: {
          files: join(folder, 'cohort'),
          columns: {
            outcome: { header: outcome, scale: 'gose' },
            pupils: {
              header: 'Pupils',
              words: Object.fromEntries(texts.map((text, i) => [asCell(text), String(i % 3)])),
            },
          },
        },
        study: {
          patients,
          leastHours: 1,
          resamples: 100,
          optimalCpp: false,
          features: { icpMeanMmHg: 1, icpShareAbove22: 0.1 },
        },
        report: 'study',
      }),
    });
    const out = join(folder, patients);
    return { out, unit: (await runPipeline(join(pipeline, 'unit.yaml'), { out, threads: 1 })).unit };
  };
}

/** Some of each kind, and all that a spreadsheet would run. */
const SOME = [...new Set([...CORPUS.filter((_, i) => i % 12 === 0), ...CLASSES.CELLS])];
/** Those that no file can hold by chance, written as they are in CSV and JSON. */
const LONGER = SOME.filter((text) => /^[^"\\\n\r/]{6,}$/.test(text));
const MODES: readonly Patients[] = ['numbers', 'pseudonyms'];

describe('hostile text in every field of a study', () => {
  let browser: Browser;
  const hostile = new Map<Patients, Ran>();
  const harmless = new Map<Patients, Ran>();
  const of = (patients: Patients): string => hostile.get(patients)!.out;
  const cellsOf = (path: string): string[] =>
    Papa.parse<string[]>(readFileSync(path, 'utf8').trimEnd()).data.flat();

  beforeAll(async () => {
    browser = await openChromium();
    const [run, quiet] = [studyOf(SOME), studyOf(SOME.map((_, i) => `quiet ${i}`))];
    for (const patients of MODES) {
      hostile.set(patients, await run(patients));
      harmless.set(patients, await quiet(patients));
    }
  });
  afterAll(() => browser?.close());

  it('is read as it stands: patients, files, outcomes and words', () => {
    const { failed, logs } = hostile.get('numbers')!.unit;
    const { study, settings } = resultsIn(of('numbers'));
    expect(study.flow).toMatchObject({
      inTable: 3 * SOME.length,
      rowsSetAside: 2 * SOME.length,
      withOutcome: SOME.length,
      exportsWithoutRow: SOME.length,
    });
    expect(study.patients).toBe(SOME.length);
    expect(failed.map(({ id }) => id).sort()).toEqual(
      SOME.map((text, i) => shorten(`broken ${fileName(text, i)}`, 999)).sort(),
    );
    expect(logs.map(({ file }) => file).sort()).toEqual(
      SOME.map((text, i) => shorten(fileName(text, i), 999)).sort(),
    );
    const { columns } = settings.cohort as { columns: { outcome: { header: string } } };
    expect(columns.outcome.header).toBe(asHeader(SOME.join(' / ')));
    const { data } = Papa.parse<Record<string, string>>(
      readFileSync(join(of('numbers'), 'tables/patients.csv'), 'utf8'),
      { header: true },
    );
    const pupils = new Map(data.map((row) => [row.patient, row.pupilsReacting]));
    expect(SOME.map((text) => pupils.get(safeText(asCell(text))))).toEqual(SOME.map((_, i) => String(i % 3)));
  });

  describe.each(MODES)('with patients as %s', (patients) => {
    it.each([true, false])(
      'shows as text, and does nothing else (policy obeyed: %s)',
      async (obeysPolicy) => {
        const window = await Window.open(browser, obeysPolicy);
        const quiet = await window.look(join(harmless.get(patients)!.out, 'index.html'));
        const page = await window.look(join(of(patients), 'index.html'));
        expectQuiet(page, 'index.html');
        // As a yes or no: a difference would be printed at great length.
        expect(page.skeleton === quiet.skeleton).toBe(true);
        const title = patients === 'numbers' ? shown(SOME.join(' ')) : 'Quiet';
        expect([page.heading.startsWith(title), page.title.startsWith(title)]).toEqual([true, true]);
        for (const [i, text] of SOME.entries()) {
          const [name, file] = [shown(text), shown(shorten(fileName(text, i), 999))];
          if (patients === 'numbers') {
            expect(page.text).toContain(shown(`Table of patients ${file}: rows read 5, used 3, set aside 2`));
          } else if (!quiet.text.includes(name)) {
            expect(page.text).not.toContain(name);
          }
          if (patients === 'pseudonyms') expect(page.text).not.toContain(file);
        }
        if (patients === 'numbers')
          for (const warning of hostile.get(patients)!.unit.logs.flatMap(({ warnings }) => warnings))
            expect(page.text).toContain(shown(warning));
        if (obeysPolicy) expect(await window.overflows()).toEqual([]);
      },
    );

    it('is neutral in each cell of each table, for those who open it in a spreadsheet', () => {
      const names = readdirSync(of(patients), { recursive: true, encoding: 'utf8' });
      const tables = names.filter((name) => name.endsWith('.csv'));
      expect(tables.length).toBeGreaterThanOrEqual(20);
      for (const name of tables) {
        const armed = cellsOf(join(of(patients), name)).filter((cell) => safeText(cell) !== cell);
        expect(armed, name).toEqual([]);
      }
      // Where they stand, they stand whole but for the quote in front.
      const ids = new Set(
        cellsOf(join(of(patients), patients === 'numbers' ? 'tables/patients.csv' : 'key.csv')),
      );
      for (const text of SOME) {
        expect(ids).toContain(safeText(asCell(text)));
        expect(ids).toContain(safeText(asCell(`${text} (nobody)`)));
      }
      const aside = readFileSync(join(of(patients), 'tables/setaside.csv'), 'utf8');
      expect(
        aside.match(/is not a number|is no number or word of the GOSE|none of the levels 1 to 8/g),
      ).toHaveLength(2 * SOME.length);
    });

    it('stands unbroken in Parquet, which no spreadsheet runs, and not in what is said of the columns', async () => {
      const folder = join(of(patients), 'tables');
      const expected =
        patients === 'numbers' ? SOME.map(asCell) : SOME.map(() => expect.stringMatching(/^P\d{3}$/));
      for (const table of ['patients', 'features', 'features-long']) {
        const { names, rows, metadata } = await readParquet(readFileSync(join(folder, `${table}.parquet`)));
        const at = names.indexOf('patient');
        const found = new Set(rows.map((row) => row[at]));
        if (patients === 'numbers') for (const id of expected) expect(found).toContain(id);
        else for (const id of found) expect(id).toEqual(expected[0]);
        for (const said of metadata.values()) for (const text of LONGER) expect(said).not.toContain(text);
      }
      // Titles and definitions are ours alone: the same whoever the patients are.
      const csvw = (ran: Ran): string => readFileSync(join(ran.out, 'tables/csv-metadata.json'), 'utf8');
      expect(csvw(hostile.get(patients)!)).toBe(csvw(harmless.get(patients)!));
    });
  });

  it('names no patient under pseudonyms, but in the files that are for their owner alone', () => {
    const names = readdirSync(of('pseudonyms'), { recursive: true, encoding: 'utf8' }).filter((name) =>
      statSync(join(of('pseudonyms'), name)).isFile(),
    );
    const telling = names.filter((name) => {
      const text = readFileSync(join(of('pseudonyms'), name), 'utf8');
      return LONGER.some((one) => text.includes(`${one} (nobody)`) || text.includes(`${one}.csv`));
    });
    expect(telling.sort()).toEqual(['key.csv', 'run.json', 'tables/remarks.csv', 'tables/setaside.csv']);
  });
});

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import Papa from 'papaparse';
import type { Browser } from 'playwright-core';
import { Fragment, h, type JSX } from 'preact';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runPipeline } from '../../../src/pipeline/run-pipeline.js';
import { shorten } from '../../../src/recording/problem.js';
import { ClockNote } from '../../../src/report/audit/clock-note.js';
import { LogAccountSection } from '../../../src/report/audit/log-account-section.js';
import { AlarmPatients } from '../../../src/report/audit/patients-section.js';
import { drawTime } from '../../../src/report/audit/time-drawings.js';
import { UnnoticedSection } from '../../../src/report/audit/unnoticed-section.js';
import { MissedTable } from '../../../src/report/audit/what-if-tables.js';
import { renderSvg } from '../../../src/report/charts/render.js';
import { LogLines } from '../../../src/report/morning/log-lines.js';
import { Chart } from '../../../src/report/page/chart.js';
import { renderPage } from '../../../src/report/page/page.js';
import type { AuditResult } from '../../../src/report/results-audit.js';
import type { Results } from '../../../src/report/results-schema.js';
import { safeText } from '../../../src/report/tables/csv.js';
import { visibleText } from '../../../src/report/visible-text.js';
import { openChromium } from '../../support/chromium.js';
import { folderWith } from '../../support/cistern.js';
import { expectQuiet } from './check-page.js';
import { CLASSES, CORPUS } from './corpus.js';
import { asCell, fileName } from './hostile-unit.js';
import { type Looked, Window } from './look.js';

const quoted = (text: string): string => `"${text.replaceAll('"', '""')}"`;
const shown = (text: string): string => visibleText(text).replace(/\s+/g, ' ').trim();
const two = (n: number): string => String(n).padStart(2, '0');

/** Behind a text that would be the name of a channel otherwise. */
const parameterOf = (text: string): string => `${text} ?`;

/** Days over which the patients come, one after the other. */
const DAYS = 21;
const at = (patient: number, seconds: number): string =>
  `2031-03-${two(3 + (patient % DAYS))} 08:${two(Math.floor(seconds / 60))}:${two(seconds % 60)}`;

/** 45 min at 15 s, of which 34 are raised: no alarm tells of this, and a limit above it misses it. */
const rowsOf = (patient: number, who: string): string =>
  Array.from({ length: 180 }, (_, i) => {
    const icp = (i >= 20 && i < 156 ? 26 : 12) + (i % 3) / 10;
    return `${at(patient, i * 15)},${who},${icp},85\n`;
  }).join('');

/** A unit whose patients, files, parameters, treatments, title and change are texts. */
async function auditedUnit(texts: readonly string[], patients: 'numbers' | 'pseudonyms'): Promise<string> {
  const logs = texts.map((text, i): [string, string] => {
    const [who, parameter] = [quoted(text), quoted(parameterOf(text))];
    const rows = [
      `${who},${at(i, 2000)},ICP high,22,High\n`,
      `${who},${at(i, 2100)},${parameter},,High\n`,
      `${who},soon,${parameter},,High\n`,
      `${quoted(`${text} (nobody)`)},${at(i, 2100)},ICP high,22,High\n`,
    ];
    return [`alarms/${fileName(text, i)}`, `Patient,Onset,Alarm,Limit (mmHg),Priority\n${rows.join('')}`];
  });
  const folder = folderWith({
    ...Object.fromEntries(logs),
    ...Object.fromEntries(
      texts.map((text, i) => [
        `exports/${fileName(text, i)}`,
        `Time,Who,ICP (mmHg),ABP mean (mmHg)\n${rowsOf(i, quoted(text))}`,
      ]),
    ),
    'care.csv': `Patient,Start,Event\n${texts.map((text, i) => `${quoted(text)},${at(i, 1200)},${quoted(text)}\n`).join('')}`,
    // JSON is YAML.
    'unit.yaml': JSON.stringify({
      title: texts.join(' '),
      exports: 'exports',
      timezone: 'Europe/Oslo',
      period: 'all',
      patient: { column: 'Who' },
      alarms: 'alarms',
      care: 'care.csv',
      audit: {
        patients,
        changed: { date: '2031-03-12', what: texts.join(' ') },
        treatments: texts.map(asCell),
        whatIf: { limitsMmHg: { from: 22, to: 30, step: 8 }, delayMinutes: { from: 0, to: 0 } },
      },
      report: 'audit',
    }),
  });
  const out = join(folder, 'report');
  await runPipeline(join(folder, 'unit.yaml'), { out, threads: 1, pages: patients === 'numbers' });
  return out;
}

const resultsIn = (out: string): Results & { audit: AuditResult } =>
  JSON.parse(readFileSync(join(out, 'results.json'), 'utf8'));

/** Some of each kind: those that a whole run has; all of them are looked at in parts of the page. */
const SOME = CORPUS.filter((_, i) => i % 10 === 0);
/** Drawing takes long: some of each kind, and those that look like what ties parts of a drawing together. */
const DRAWN = CORPUS.filter(
  (text, i) => i % 16 === 0 || /\b(?:id|href)=|url\(|<\/?(?:svg|text|g)\b|\$/.test(text),
);
const harmless = CORPUS.map((_, i) => `quiet ${i}`);

describe('hostile text in every field of an audit', () => {
  let browser: Browser;
  let out: string;
  let plain: string;
  let audit: AuditResult;
  beforeAll(async () => {
    browser = await openChromium();
    out = await auditedUnit(SOME, 'numbers');
    plain = await auditedUnit(harmless.slice(0, SOME.length), 'numbers');
    ({ audit } = resultsIn(out));
  });
  afterAll(() => browser?.close());

  /** A page made of parts. */
  const written = (parts: readonly JSX.Element[]): string => {
    const children = parts.map((part, i) => h(Fragment, { key: i }, part));
    const html = renderPage({ title: 'Parts', subtitle: '', running: 'Parts', children });
    return join(folderWith({ 'parts.html': html }), 'parts.html');
  };

  /** Opens a page with its policy and without, beside one of the same parts with harmless texts. */
  const lookTwice = async (path: string, quietPath: string): Promise<Looked> => {
    const [strict, bare] = [await Window.open(browser, true), await Window.open(browser, false)];
    const quiet = await strict.look(quietPath);
    const pages = [await strict.look(path), await bare.look(path)];
    for (const page of pages) {
      expectQuiet(page, path);
      // As a yes or no: a difference would be printed at great length.
      expect(page.skeleton === quiet.skeleton).toBe(true);
    }
    return pages[0];
  };

  it('is read as it stands: patients, files and treatments', () => {
    const { unit, logs, settings } = resultsIn(out);
    expect([...unit.order].sort()).toEqual(SOME.map(asCell).sort());
    expect(logs.filter(({ kind }) => kind === 'alarms')).toHaveLength(SOME.length);
    expect((settings as { audit: { treatments: string[] } }).audit.treatments).toEqual(SOME.map(asCell));
    expect(audit.response.clocks.find(({ clock }) => clock === 'treated')?.periods[0].happened).toBe(
      SOME.length,
    );
  });

  it.each([true, false])('shows as text, and does nothing else (policy obeyed: %s)', async (obeysPolicy) => {
    const window = await Window.open(browser, obeysPolicy);
    const quiet = await window.look(join(plain, 'index.html'));
    const page = await window.look(join(out, 'index.html'));
    expectQuiet(page, 'index.html');
    // As a yes or no: a difference would be printed at great length.
    expect(page.skeleton === quiet.skeleton).toBe(true);
    const all = shown(SOME.join(' '));
    expect(page.heading.startsWith(`${all}: `)).toBe(true);
    expect(page.text).toContain(`Marked change: 12 March 2031, ${all}.`);
    for (const [i, text] of SOME.entries()) {
      expect(page.cells).toContain(shown(text));
      expect(page.text).toContain(shown(`Alarm log ${shorten(fileName(text, i), 999)}: rows read 4, used`));
    }
    const [first] = audit.alarms.log!.unjudged;
    expect(page.cells).toContain(shown(shorten(first.parameter)));
    if (obeysPolicy) expect(await window.overflows()).toEqual([]);
  });

  it('shows as text in each part of the page that names patients, files or parameters', async () => {
    const pageOf = (texts: readonly string[]): string => {
      const log = audit.alarms.log!;
      const [ofPatient, unnoticed] = [audit.alarms.patients[0], audit.alarms.unnoticed[0]];
      const missed = audit.whatIf!.missedLong![0];
      const alarms = { ...audit.alarms, patients: texts.map((patient) => ({ ...ofPatient, patient })) };
      const { clock } = audit.alarms;
      const { logs, period } = resultsIn(out);
      const file = logs.find(({ kind }) => kind === 'alarms')!;
      return written([
        h(AlarmPatients, { alarms }),
        h(MissedTable, {
          part: audit.whatIf!,
          missed: texts.map((patient) => ({ ...missed, patient })),
          period,
        }),
        h(LogLines, { logs: texts.map((text) => ({ ...file, file: text, warnings: [text] })) }),
        ...texts.flatMap((patient) => [
          h(UnnoticedSection, {
            alarms: { ...audit.alarms, unnoticed: [{ ...unnoticed, patient }] },
          }),
          h(ClockNote, {
            clock: { ...clock, patients: [{ patient, is: 'apart', alarms: 20, offsetsSeconds: [60] }] },
            svg: null,
          }),
          h(LogAccountSection, {
            log: { ...log, unjudged: [{ why: 'unknownParameter', parameter: patient, alarms: 1 }] },
          }),
        ]),
      ]);
    };
    const page = await lookTwice(pageOf(CORPUS), pageOf(harmless));
    for (const text of CORPUS) {
      const [name, short] = [shown(text), shown(shorten(text))];
      expect(page.cells.filter((cell) => cell === name).length).toBeGreaterThanOrEqual(3);
      expect(page.cells).toContain(short);
      expect(page.text).toContain(`${name} (1 min after a crossing).`);
      expect(page.text).toContain(shown(`Alarm log ${text}: rows read`));
    }
  });

  it('shows as text where it is drawn as what was changed', async () => {
    const time = { ...audit.time, measures: audit.time.measures.slice(0, 1) };
    const drawn = async (what: string): Promise<string> =>
      [...(await drawTime({ ...time, changed: { ...time.changed!, what } }, renderSvg)).values()][0]!;
    const pageOf = (svgs: readonly string[], texts: readonly string[]): string =>
      written(texts.map((text, i) => h(Chart, { svg: svgs[i], title: 'Chart', says: text })));
    const svgs: string[] = [];
    for (const text of DRAWN) svgs.push(await drawn(text));
    const calm = await drawn('quiet');
    const page = await lookTwice(
      pageOf(svgs, DRAWN),
      pageOf(
        DRAWN.map(() => calm),
        DRAWN.map(() => 'quiet'),
      ),
    );
    const text = page.text.replaceAll(/\s/g, '');
    const short = DRAWN.filter((one) => [...one].length <= 30);
    expect(short.length).toBeGreaterThan(15);
    for (const what of short) expect(text).toContain(shown(`12 March 2031: ${what}`).replaceAll(/\s/g, ''));
  });

  it('is neutral in each cell of each table, for those who open it in a spreadsheet', async () => {
    const few = await auditedUnit(CLASSES.CELLS, 'pseudonyms');
    const tables = [out, few].flatMap((folder) =>
      readdirSync(folder, { recursive: true, encoding: 'utf8' })
        .filter((name) => name.endsWith('.csv'))
        .map((name) => join(folder, name)),
    );
    expect(tables.filter((path) => /(?:key|remarks|setaside|unjudged)\.csv$/.test(path))).toHaveLength(6);
    for (const path of tables) {
      const { data } = Papa.parse<string[]>(readFileSync(path, 'utf8').trimEnd());
      const armed = data.flat().filter((cell) => safeText(cell) !== cell);
      expect(armed, path).toEqual([]);
    }
    const cellsOf = (folder: string, name: string): Set<string> =>
      new Set(Papa.parse<string[]>(readFileSync(join(folder, name), 'utf8')).data.flat());
    const unjudged = cellsOf(few, 'tables/unjudged.csv');
    const key = cellsOf(few, 'key.csv');
    const ofSome = cellsOf(out, 'tables/alarms.csv');
    const unjudgedOfSome = cellsOf(out, 'tables/unjudged.csv');
    for (const text of SOME) {
      expect(ofSome).toContain(safeText(asCell(text)));
      expect(unjudgedOfSome).toContain(safeText(parameterOf(text)));
    }
    for (const text of CLASSES.CELLS) {
      // Words of one patient alone may hold a name, and so stand nowhere under pseudonyms.
      expect(unjudged).not.toContain(safeText(parameterOf(text)));
      expect(key).toContain(safeText(text));
    }
  });
});

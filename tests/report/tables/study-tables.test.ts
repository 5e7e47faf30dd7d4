import { beforeAll, describe, expect, it } from 'vitest';
import { study as studySchema } from '../../../src/report/results-study.js';
import { columnCells, type ReadCell } from '../../../src/report/tables/column-cells.js';
import { safeText } from '../../../src/report/tables/csv.js';
import { csvwOf } from '../../../src/report/tables/csvw.js';
import { parquetOf } from '../../../src/report/tables/parquet.js';
import { studyDictionary } from '../../../src/report/tables/study-dictionary.js';
import { OF_SINGLE_PATIENTS, studyTables } from '../../../src/report/tables/study-tables.js';
import { type TidyTable, tidyCsv } from '../../../src/report/tables/tidy-table.js';
import type { StudyCohort } from '../../../src/summarize/study/study-cohort.js';
import { type Csvw, readByCsvw } from '../../support/csvw-reader.js';
import { csvwFaults } from '../../support/csvw-rules.js';
import { readParquet } from '../../support/duckdb.js';
import { inventedStudy, moment } from '../../support/invented-study.js';
import { studyResultSample } from '../../support/study-result-sample.js';

const HOUR = 3_600_000;
const START = Date.UTC(2031, 1, 10, 8);
const result = studyResultSample();
let cohort: StudyCohort;
let tables: TidyTable[];

beforeAll(() => {
  cohort = inventedStudy({
    patients: 31,
    study: { outcome: { scale: 'gose', months: 6 }, levels: { icpAboveMmHg: [17] } },
    change: (member, i) =>
      i === 0 && member.row
        ? {
            ...member,
            row: {
              ...member.row,
              admission: moment(START - 3.5 * HOUR),
              // The third day of the calendar after the start, of which no time is given.
              death: {
                happened: true,
                at: { utcMs: START + 64 * HOUR, endUtcMs: START + 88 * HOUR, isDay: true },
              },
            },
          }
        : i === 2
          ? { ...member, exports: 'failed', study: null }
          : i === 3 && member.row
            ? {
                ...member,
                row: { ...member.row, gcsTotal: 7, ct: null, ageYears: 30, posturing: null, gcsMotor: 5 },
              }
            : member,
  });
  tables = studyTables(cohort, result);
});

const tableOf = (name: string): TidyTable => {
  const found = tables.find((table) => table.name === name);
  if (!found) throw new Error(`there is no table ${name}`);
  return found;
};
const rowOf = (name: string, wanted: Record<string, unknown>) => {
  const found = tableOf(name).rows.filter((row) =>
    Object.entries(wanted).every(([key, value]) => row[key] === value),
  );
  expect(found).toHaveLength(1);
  return found[0];
};

/** What CSV can give back: text as it is neutralised. */
const throughCsv = (cell: ReadCell): ReadCell => (typeof cell === 'string' ? safeText(cell) : cell);

describe('the tables of a study', () => {
  it('are these, and rest on results of the shape that is written', () => {
    expect(() => studySchema.parse(result)).not.toThrow();
    expect(tables.map(({ name }) => name)).toEqual([
      ...['patients', 'features', 'features-long', 'flow', 'criteria', 'outcome', 'words', 'table1'],
      ...['comparisons', 'odds', 'cuts', 'looks', 'dose', 'dose-groups', 'dose-curves'],
      ...['map-icp', 'map-cpp', 'zero-lines', 'days'],
    ]);
  });

  it('say of each column its type, title and meaning, and of each table its key', () => {
    for (const { name, key, columns, says } of tables) {
      expect(key?.length, name).toBeGreaterThan(0);
      expect(says.length, name).toBeGreaterThan(20);
      for (const column of columns) {
        expect(column.type, `${name}.${column.name}`).toBeDefined();
        expect(column.title, `${name}.${column.name}`).toBeTruthy();
        expect(column.says, `${name}.${column.name}`).toMatch(/^\S.{2,}/);
        expect(column.definition === undefined, `${name}.${column.name}`).toBe(column.source === undefined);
      }
      // No column is described that no row could fill, and no cell is without a column.
      const names = new Set(columns.map((column) => column.name));
      for (const row of tableOf(name).rows) {
        expect(Object.keys(row).filter((one) => !names.has(one))).toEqual([]);
      }
    }
  });

  it('hold the same in CSV by its metadata and in Parquet by DuckDB', async () => {
    const all = [...tables, studyDictionary(tables)];
    const metadata = JSON.parse(JSON.stringify(csvwOf(all))) as Csvw;
    expect(csvwFaults(metadata as never)).toEqual([]);
    for (const table of all) {
      const columns = columnCells(table);
      const rows = table.rows.map((_, i) => columns.map(({ cells }) => cells[i]));
      const fromCsv = readByCsvw(metadata, `${table.name}.csv`, tidyCsv(table));
      expect(fromCsv, table.name).toEqual(rows.map((row) => row.map(throughCsv)));
      const parquet = await readParquet(parquetOf(table));
      expect(parquet.names).toEqual(columns.map(({ column }) => column.name));
      const plain = parquet.rows.map((row) =>
        row.map((cell) => (typeof cell === 'bigint' ? Number(cell) : cell)),
      );
      expect(plain, table.name).toEqual(rows);
      expect(JSON.parse(parquet.metadata.get('key') ?? 'null')).toEqual(table.key);
    }
  });

  it('of single patients are those with a column of patients', () => {
    const single = tables.filter(({ columns }) => columns.some(({ name }) => name === 'patient'));
    expect(new Set(single.map(({ name }) => name))).toEqual(OF_SINGLE_PATIENTS);
  });
});

describe('the table of patients', () => {
  it('has everybody once, with the place in the flow', () => {
    const { rows } = tableOf('patients');
    expect(rows.map(({ patient }) => patient)).toEqual(cohort.members.map(({ id }) => id));
    for (const { patient, flow, isInTable, isInMain } of rows) {
      const id = String(patient);
      expect(flow).toBe(isInTable ? (cohort.flow.stoppedAt.get(id) ?? 'analysed') : 'notInTable');
      expect(isInMain).toBe(cohort.flow.withOutcome.includes(id));
    }
    expect(rows.filter(({ isInMain }) => isInMain)).toHaveLength(cohort.groups.coded.length);
    const seen = new Set(rows.map(({ flow }) => flow));
    for (const step of [
      'analysed',
      'notInTable',
      'noExports',
      'notRead',
      'noIcp',
      'littleMonitored',
      'noOutcome',
    ]) {
      expect(seen, step).toContain(step);
    }
  });

  it('has outcomes as the study counts them', () => {
    for (const { patient, code, isFavourable } of tableOf('patients').rows) {
      const coded = cohort.groups.coded.find((one) => one.patient.id === patient);
      if (coded) expect([code, isFavourable]).toEqual([coded.code, coded.isFavourable]);
    }
    // Assessed at 3 months, and asked for 6: it stands there as read, and does not count.
    expect(rowOf('patients', { patient: '004' })).toMatchObject({
      outcomeScale: 'gose',
      assessedMonths: 3,
      outcomeTiming: 'otherTime',
      code: null,
      isFavourable: null,
      flow: 'noOutcome',
    });
  });

  it('has covariates as read, and the criteria', () => {
    for (const { id, row } of cohort.members) {
      if (!row) continue;
      const { ageYears, gcsMotor, gcsTotal, pupilsReacting, ct, posturing, sbpMmHg, therapyIntensity } = row;
      expect(rowOf('patients', { patient: id })).toMatchObject({
        ...{ ageYears, gcsMotor, gcsTotal, pupilsReacting, ct, posturing, sbpMmHg, therapyIntensity },
        withdrawn: row.withdrawn?.happened,
        craniectomy: row.craniectomy?.happened,
      });
    }
    const statuses = tableOf('patients').rows.map(({ criteria }) => criteria);
    expect(new Set(statuses)).toEqual(new Set(['met', 'notMet', 'cannotTell', null]));
    const untold = tableOf('patients').rows.filter(({ criteria }) => criteria === 'cannotTell');
    for (const { criteriaMissing } of untold) expect(criteriaMissing).toMatch(/^[A-Za-z]+( [A-Za-z]+)*$/);
  });

  it('tells times from the start of monitoring alone, and no date', () => {
    expect(rowOf('patients', { patient: '001' })).toMatchObject({
      injuryHours: -5,
      injuryDays: 0,
      admissionHours: -3.5,
      // The middle of that day lies 76 h after the start.
      deathHours: null,
      deathDays: 3,
      stayEndsBy: expect.stringMatching(/^(death|data)$/),
    });
    const craniectomy = tableOf('patients').rows.find(
      (row) => row.craniectomy === true && row.windowReason === null && row.stayEndHours,
    );
    expect(craniectomy).toMatchObject({ craniectomyHours: 30, craniectomyDays: 1 });
    const text = tables
      .filter(({ name }) => OF_SINGLE_PATIENTS.has(name))
      .map(tidyCsv)
      .join('\n');
    expect(text).not.toMatch(/\b20\d\d-|\d\d:\d\d|\b192\d{10}\b/);
  });

  it('has the windows of the features', () => {
    for (const { patient, primaryEndHours, primaryEndsBy, icpMonitoredHours } of tableOf('patients').rows) {
      const window = tableOf('features').rows.find(
        (row) => row.patient === patient && row.windowId === 'primary',
      );
      expect(primaryEndHours ?? null).toBe(window?.endHours ?? null);
      expect(primaryEndsBy ?? null).toBe(window?.endsBy ?? null);
      // Summed over one window, and over several at once: the last bit may differ.
      expect(Number(icpMonitoredHours ?? 0)).toBeCloseTo(Number(window?.icpMonitoredHours ?? 0), 9);
    }
  });
});

describe('tables of features', () => {
  it('have all windows of all patients with exports, and the levels of the study', () => {
    const { rows, columns } = tableOf('features');
    expect(rows).toHaveLength(cohort.members.reduce((sum, { study }) => sum + (study?.rows.length ?? 0), 0));
    expect(columns.map(({ name }) => name)).toEqual(
      expect.arrayContaining(['icpHoursAbove17', 'icpHoursAbove22', 'cppHoursBelow60']),
    );
    const mean = columns.find(({ name }) => name === 'icpMeanMmHg');
    expect(mean).toMatchObject({ unit: 'mm[Hg]', samplingSeconds: 300 });
    expect(mean?.source).toBeTruthy();
    // Also of those who are not in the table, and are in no analysis.
    const stranger = cohort.members.find(({ row, study }) => !row && study);
    expect(rows.filter(({ patient }) => patient === stranger?.id).length).toBeGreaterThan(0);
    expect(tableOf('features-long').rows.length).toBe(
      // Eight columns of the window, then two a feature.
      (rows.length * (columns.length - 8)) / 2,
    );
  });
});

describe('tables of the results', () => {
  it('count the flow from the table on', () => {
    const { rows } = tableOf('flow');
    expect(rows[0]).toEqual({ step: 'table', title: 'In the cohort table', excluded: null, left: 30 });
    rows.slice(1).forEach(({ left, excluded }, i) => {
      expect(Number(rows[i].left) - Number(excluded)).toBe(left);
    });
    expect(tableOf('criteria').rows.map(({ kind, name, patients }) => [kind, name, patients])).toEqual([
      ['status', 'met', 20],
      ['status', 'notMet', 3],
      ['status', 'cannotTell', 7],
      ['missing', 'sbpMmHg', 6],
      ['missing', 'posturing', 4],
    ]);
    expect(rowOf('outcome', { code: 2 })).toMatchObject({
      scale: 'gose',
      isFavourable: false,
      patients: 0,
      months: 6,
    });
    expect(rowOf('words', { place: 1 }).sentence).toBe(result.words[0].sentence);
  });

  it('have Table 1 long', () => {
    const cell = (group: string, variable: string, level: string, statistic: string) =>
      rowOf('table1', { group, variable, level, statistic });
    expect(cell('favourable', 'patients', 'all', 'patients').value).toBe(12);
    expect(cell('all', 'ageYears', 'all', 'upperQuartile')).toMatchObject({ value: 47, unit: 'a' });
    expect(cell('all', 'gcsMotor', '5', 'patients')).toMatchObject({ value: 5, unit: '{patients}' });
    expect(cell('unfavourable', 'gcsTotal', 'all', 'median')).toMatchObject({
      value: null,
      valueReason: 'no value is known',
    });
    expect(cell('withoutOutcome', 'pupilsReacting', 'all', 'missing').value).toBe(4);
    expect(cell('all', 'died', 'yes', 'patients').value).toBe(3);
    expect(cell('all', 'withdrawn', 'all', 'missing').value).toBe(1);
  });

  it('compare groups, a feature a row', () => {
    expect(rowOf('comparisons', { feature: 'icpMeanMmHg' })).toMatchObject({
      unit: 'mm[Hg]',
      known: 20,
      missing: 3,
      missingReasons: 'not resolvable at this sampling (2); the exports hold no ICP (1)',
      favourableMedian: 13.1,
      unfavourableMedian: 18.9,
      unfavourableUpperQuartile: 18.9 + 2.5,
      pairsHigher: 71.5,
      rankSumMethod: 'normal',
      rankSumP: 0.03,
      rankSumHolmP: 0.06,
      area: 0.75,
      areaLower: 0.52,
      areaUpper: 0.91,
    });
    expect(rowOf('comparisons', { feature: 'cppDoseBelow60MmHgHours' })).toMatchObject({
      area: null,
      areaReason: 'no patient has it',
      rankSumHolmPReason: 'no patient has it',
      pairsHigherReason: 'no patient has it',
    });
  });

  it('have odds ratios by model and kind', () => {
    const row = (model: string, kind: string) => rowOf('odds', { feature: 'icpMeanMmHg', model, kind });
    expect(tableOf('odds').rows).toHaveLength(10);
    expect(rowOf('cuts', { from: 2 })).toMatchObject({
      feature: 'icpMeanMmHg',
      worse: 3,
      better: 17,
      value: null,
      valueReason: 'a side of the cut has few patients',
      isPenalised: null,
    });
    expect(rowOf('cuts', { from: 5 })).toMatchObject({
      value: 1.5,
      profileLower: 1.12,
      profileUpper: 2.11,
      profileP: 0.0101,
      isPenalised: false,
    });
    expect(row('unadjusted', 'logistic')).toMatchObject({
      step: 5,
      value: 1.5,
      waldLower: 1.1,
      waldUpper: 2.05,
      waldP: 0.0123,
      profileLower: 1.12,
      profileUpper: 2.11,
      profileP: 0.0101,
      holmP: 0.0202,
      method: 'maximum likelihood',
      patients: 20,
      events: 9,
      eventsPerVariable: 9,
      hasFewEvents: true,
    });
    expect(row('unadjusted', 'ordinal')).toMatchObject({
      value: 1.4,
      profileP: 0.019,
      holmP: 0.038,
      levels: 7,
    });
    expect(row('adjusted', 'logistic')).toMatchObject({
      adjusters: 'ageYears gcsMotor',
      waldLower: null,
      waldReason: 'the outcomes are parted, and the standard error does not hold',
      profileLower: 4.5,
      profileUpper: null,
      profileReason: 'the profile is flat',
      separation: 'quasi-complete',
      holmP: 2e-7,
    });
    expect(row('adjusted', 'ordinal')).toMatchObject({
      valueReason: 'the regression has no result',
      holmP: null,
      holmPReason: 'the regression has no result',
    });
    expect(row('unadjustedComplete', 'logistic')).toMatchObject({ value: 1.6, patients: 18 });
  });

  it('have the looks, the dose response and the days', () => {
    expect(rowOf('looks', { look: 'stay', feature: 'icpMeanMmHg' })).toMatchObject({
      patients: 21,
      unfavourable: 9,
      odds: 1.5,
      oddsUpper: 2.11,
      oddsPenalised: false,
      adjustedOddsUpper: null,
      adjustedOddsReason: 'the profile is flat',
    });
    expect(rowOf('dose', { feature: 'icpMeanMmHg' })).toMatchObject({
      knots: '[9 14.5 22]',
      associationChiSquare: 6.5,
      nonLinearityChiSquare: 0.125,
      associationFreedom: 2,
      remarks: '8 patients have a value of 0. So there are 2 groups.',
    });
    expect(rowOf('dose', { feature: 'cppDoseBelow60MmHgHours' })).toMatchObject({
      groupsReason: 'no patient has it',
      curveReason: 'no patient has it',
    });
    expect(tableOf('dose-groups').rows.map((row) => [row.group, row.isZeroGroup, row.to, row.share])).toEqual(
      [
        [1, true, 0, 0.25],
        [2, false, 14, 0.75],
      ],
    );
    expect(tableOf('dose-curves').rows.map((row) => [row.place, row.at, row.shareUpper])).toEqual([
      [1, 9, 0.5],
      [2, 20.25, 0.95],
    ]);
    expect(rowOf('days', { day: 2, outcome: 'favourable' })).toMatchObject({
      median: 13,
      known: 7,
      missing: 2,
    });
    expect(rowOf('days', { day: 2, outcome: 'unfavourable' }).reason).toBe('no value is known');
  });

  it('have the maps cell by cell', () => {
    const { rows } = tableOf('map-icp');
    expect(rows).toHaveLength(6);
    expect(rowOf('map-icp', { intensityMmHg: 25, durationMinutes: 10 })).toEqual({
      intensityMmHg: 25,
      durationMinutes: 10,
      patients: 23,
      withEpisode: 13,
      countRho: 0.5,
      countSameSignShare: 1,
      countIsStable: true,
      perDayRho: -0.5,
      perDaySameSignShare: 1,
      perDayIsStable: true,
    });
    expect(rowOf('map-icp', { intensityMmHg: 20, durationMinutes: 10 })).toMatchObject({
      countRho: null,
      withEpisode: 9,
    });
    // No arterial pressure: the table is there, without a row.
    expect(tableOf('map-cpp').rows).toEqual([]);
    expect(tableOf('zero-lines').rows.filter(({ form }) => form === 'perDay')).toEqual([
      { channel: 'icp', form: 'perDay', intensityMmHg: 25, crossing: 1, minutes: 7.5 },
      { channel: 'icp', form: 'perDay', intensityMmHg: 25, crossing: 2, minutes: 11.25 },
    ]);
  });
});

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { parse } from 'yaml';
import { findExports } from '../../src/ingest/find-exports.js';
import { groupByPatient } from '../../src/ingest/group-files.js';
import { composeStudy } from '../../src/pipeline/compose-study.js';
import { loadPipeline, pipelineOf } from '../../src/pipeline/load-pipeline.js';
import { logsOfGroup, readLogs } from '../../src/pipeline/read-logs.js';
import { type PatientPart, patientSettings, reportGroup } from '../../src/pipeline/report-group.js';
import type { Settings } from '../../src/pipeline/settings.js';
import { featureAnalyses } from '../../src/summarize/study/analysis/feature-analysis.js';
import type { PatientStudy } from '../../src/summarize/study/patient-study.js';
import type { StudyCohort } from '../../src/summarize/study/study-cohort.js';
import { folderWith } from '../support/cistern.js';
import { commandLine } from '../support/command-line.js';
import { studyResultSample } from '../support/study-result-sample.js';

// What is made of a cohort is tried elsewhere; here it is whether both have the same.
vi.mock('../../src/report/study/study-result.js', () => ({ studyResult: () => studyResultSample() }));

const two = (n: number): string => String(n).padStart(2, '0');
const PATIENTS = 12;
const HOURS = 40;

/** From 2031-02-11 20:00:20 on, a row every 2 min; each patient has another level and other rises. */
function exported(patient: number): string {
  const rows = Array.from({ length: HOURS * 30 }, (_, i) => {
    const seconds = 20 * 3600 + 20 + i * 120;
    const [day, hour] = [11 + Math.floor(seconds / 86_400), Math.floor(seconds / 3600) % 24];
    const isUp = (i + 17 * patient) % 97 < 9 + patient;
    const icp = 9 + patient + (isUp ? 11 : 0) + ((i * 7) % 5) / 2;
    return `2031-02-${day} ${two(hour)}:${two(Math.floor(seconds / 60) % 60)}:20,${icp.toFixed(1)},${82 + (i % 9)}`;
  });
  return `Time,ICP (mmHg),ABP mean (mmHg)\n${rows.join('\n')}\n`;
}

const row = (i: number, cells: Record<string, string> = {}): string =>
  [
    `zoe-${two(i)}`,
    30 + 3 * i,
    cells.injury ?? '2031-02-11 15:00',
    1 + ((i * 5) % 6) + 2 + (i % 3),
    1 + ((i * 5) % 6),
    i % 3,
    i === 3 ? '' : 4 + i,
    cells.from ?? '',
    cells.to ?? '',
    cells.withdrawn ?? 'no',
    cells.death ?? '',
    [7, 5, 8, 3, 6, 4, 5, 2, 3, 1, 3, 1][i - 1],
  ].join(',');

const COHORT = `Patient,Age,Injury,GCS total,GCS motor,Pupils reacting,Therapy intensity,Monitoring from,Monitoring to,Withdrawn,Death,GOSE
${[
  ...[1, 2, 3, 4, 5, 6].map((i) => row(i)),
  row(7, { injury: '2031-02-11' }),
  row(8, { from: '2031-02-11', to: '2031-02-13' }),
  row(9, { from: '2031-02-11 22:00', to: '2031-02-13 04:00' }),
  row(10, { withdrawn: '2031-02-13 01:30', death: '2031-02-13 05:00' }),
  row(11, { injury: '2031-02-10' }),
  // Both happened on the second day after the start; when on it, nobody knows.
  row(12, { withdrawn: '2031-02-13', death: '2031-02-13' }),
].join('\n')}
`;

const YAML = `timezone: Europe/Oslo
report: study
exports: exports
patient: {fileName: '^(zoe-\\d+)'}
cohort: cohort.csv
segment: {icp: {thresholdMmHg: 21, minSeconds: 600}}
study:
  outcome: {scale: gose, favourableFrom: 4}
  primaryHours: 30
  leastHours: 2
  features: {icpMeanMmHg: 4, icpDoseAbove21MmHgHours: 10, icpEpisodesPerDay: 1, therapyIntensity: 2}
  levels: {icpAboveMmHg: [21]}
  adjusters: [ageYears, gcsMotor]
  ageFrom: from40
  optimalCpp: false
  patients: numbers
`;

const noDrawing = async (): Promise<string> => {
  throw new Error('nothing is drawn');
};

/** The cohort of a study, read as a run reads it. */
async function studied(path: string): Promise<{ cohort: StudyCohort; settings: Settings }> {
  const pipeline = await loadPipeline(path);
  const { settings } = pipeline;
  const logs = await readLogs(pipeline);
  const found = await findExports(settings.exports, pipeline.baseOf('exports'));
  const { groups } = groupByPatient(found, settings.ingest);
  const parts: PatientPart[] = [];
  for (const group of groups) {
    const task = { group, settings: patientSettings(settings), logs: logsOfGroup(logs, group.id, 'study') };
    parts.push(...(await reportGroup({ ...task, logResults: [], period: null, hasPages: false }, noDrawing)));
  }
  const kept = parts.map((part) => ({ ...part, report: null }));
  const composed = composeStudy(kept, logs, logs.accounts, settings);
  if (!composed) throw new Error('no study');
  return { cohort: composed.cohort, settings };
}

/** Numbers equal to nine digits: other instants lose other last bits. */
function expectNear(is: unknown, was: unknown): void {
  if (typeof was === 'number')
    expect(Math.abs((is as number) - was)).toBeLessThan(1e-7 * Math.max(1, Math.abs(was)));
  else if (was !== null && typeof was === 'object') {
    expect(Object.keys(is as object)).toEqual(Object.keys(was));
    for (const [key, value] of Object.entries(was)) expectNear((is as Record<string, unknown>)[key], value);
  } else expect(is).toBe(was);
}

/** Of whom the table gives a day alone, on which nothing counts. */
const BY_DAY = 'zoe-12';

describe.each(['elapsed', 'shifted'] as const)('a de-identified study, times %s', (times) => {
  let folder = '';
  let before: Awaited<ReturnType<typeof studied>>;
  let after: Awaited<ReturnType<typeof studied>>;
  let codes: Map<string, string>;

  beforeAll(async () => {
    folder = folderWith({
      'unit.yaml': YAML,
      'cohort.csv': COHORT,
      ...Object.fromEntries(
        Array.from({ length: PATIENTS }, (_, i) => [`exports/zoe-${two(i + 1)}.csv`, exported(i + 1)]),
      ),
    });
    const ran = await commandLine(
      ['deidentify', 'unit.yaml', '--out', 'shared', '--key', 'key.csv', '--times', times],
      folder,
    );
    expect(ran.status, ran.stderr).toBe(0);
    const lines = readFileSync(join(folder, 'key.csv'), 'utf8').trim().split('\r\n').slice(1);
    codes = new Map(lines.map((line) => [line.split(',')[1], line.split(',')[0]]));
    before = await studied(join(folder, 'unit.yaml'));
    after = await studied(join(folder, 'shared/pipeline.yaml'));
  });

  const pairs = () =>
    before.cohort.members.map((was) => {
      const is = after.cohort.memberOf.get(codes.get(was.id) ?? '');
      if (!is?.study || !was.study) throw new Error(`${was.id} is not in both`);
      return { id: was.id, is, was, ofIs: is.study, ofWas: was.study };
    });

  it('keeps what the study asks', () => {
    expect(after.settings.study).toEqual(before.settings.study);
    const text = readFileSync(join(folder, 'shared/pipeline.yaml'), 'utf8');
    expect(parse(text)).toMatchObject({ report: 'study', study: { primaryHours: 30, patients: 'numbers' } });
    expect(text).not.toMatch(/zoe|oslo|2031/i);
  });

  it('has the same patients, with what the study needs of the table', () => {
    expect(before.cohort.rowsSetAside).toBe(0);
    expect(after.cohort.rowsSetAside).toBe(0);
    const needed = ({ row }: StudyCohort['members'][number]) =>
      row && [
        ...[row.ageYears, row.gcsMotor, row.gcsTotal, row.pupilsReacting, row.therapyIntensity],
        ...[row.outcome, row.withdrawn?.happened, row.withdrawn?.at?.isDay, row.death?.at?.isDay],
        ...[row.injury?.isDay, row.monitoringFrom?.isDay, row.monitoringTo?.isDay],
      ];
    for (const { is, was } of pairs()) expect(needed(is)).toEqual(needed(was));
    const stopped = ({ flow }: StudyCohort, id: string) => flow.stoppedAt.get(id);
    for (const { id, is } of pairs()) expect(stopped(after.cohort, is.id)).toBe(stopped(before.cohort, id));
  });

  it('has the same features over the same windows', () => {
    for (const { id, ofIs, ofWas } of pairs()) {
      if (times === 'elapsed' && id === BY_DAY) continue;
      const plain = (study: typeof ofIs) => ({
        rows: study.rows.map(({ patient, ...rest }) => rest),
        hours: study.primaryIcpHours,
        remarks: study.remarks,
        counts: [study.grids.icp, study.grids.cpp].map((grid) => grid && [...grid.counts]),
      });
      if (times === 'shifted') expect(plain(ofIs), id).toEqual(plain(ofWas));
      else expectNear(plain(ofIs), plain(ofWas));
    }
    const kinds = before.cohort.members.flatMap(({ study }) => study?.rows ?? []).map(({ kind }) => kind);
    expect(kinds.filter((kind) => kind === 'day').length).toBeGreaterThan(20);
  });

  it('never counts what lies on a day or behind a day of which no time is given', () => {
    const found = pairs().find(({ id }) => id === BY_DAY);
    const end = (study: PatientStudy): number => {
      const stay = study.rows.find(({ kind }) => kind === 'stay')?.window;
      if (!stay || 'reason' in stay) throw new Error('no stay');
      expect(stay.endsBy).toBe('withdrawn');
      return stay.endHours;
    };
    if (!found) throw new Error('not found');
    // From 20:00:20 to the midnight before the 13th.
    expect(end(found.ofWas)).toBeCloseTo(28 - 20 / 3600, 9);
    if (times === 'shifted') expect(end(found.ofIs)).toBe(end(found.ofWas));
    // Seconds count from 20:00:00, and the last whole day that is certainly over is the first.
    else expect(end(found.ofIs)).toBeCloseTo(24 - 20 / 3600, 9);
  });

  it('has the same analysis', () => {
    const of = ({ cohort, settings }: typeof before) => {
      // The one whose day is told less exactly aside.
      const without = new Set([BY_DAY, codes.get(BY_DAY)]);
      const coded = cohort.groups.coded.filter(({ patient }) => !without.has(patient.id));
      // In one order: sums over patients have other last bits in another.
      coded.sort((a, b) => Number(a.patient.ageYears) - Number(b.patient.ageYears));
      return featureAnalyses({ ...cohort.groups, coded }, settings.study?.chosen ?? [], cohort.adjusters);
    };
    const [is, was] = [of(after), of(before)];
    expect(was.map(({ key, known }) => [key, known])).toEqual([
      ['icpMeanMmHg', 11],
      ['icpDoseAbove21MmHgHours', 11],
      ['icpEpisodesPerDay', 11],
      ['therapyIntensity', 10],
    ]);
    expect('reason' in was[0].logistic).toBe(false);
    if (times === 'shifted') expect(is).toEqual(was);
    else expectNear(is, was);
  });
});

describe('a study of which nobody chose the features', () => {
  it('is still one in the shared pipeline file, with the thresholds of the unit', async () => {
    const folder = folderWith({
      'unit.yaml':
        "report: study\npreset: paediatric\nexports: exports\npatient: {fileName: '^(zoe-\\d+)'}\ncohort: cohort.csv\nstudy: {outcome: {months: 6}}\n",
      'cohort.csv': 'Patient,GOSE,Outcome assessed\nzoe-01,5,6 months\n',
      'exports/zoe-01.csv': exported(1),
    });
    const ran = await commandLine(['deidentify', 'unit.yaml', '--out', 'shared', '--key', 'k.csv'], folder);
    expect(ran.status).toBe(0);
    const read = (path: string) => pipelineOf(readFileSync(join(folder, path), 'utf8'), path).study;
    expect(read('shared/pipeline.yaml')).toEqual(read('unit.yaml'));
    expect(read('shared/pipeline.yaml')).toMatchObject({ areChosenUsual: true, outcome: { months: 6 } });
  });
});

import { describe, expect, it } from 'vitest';
import type { CohortRow } from '../../../src/ingest/tables/cohort.js';
import type { Moment } from '../../../src/ingest/tables/describe.js';
import { readTable } from '../../../src/ingest/tables/read-table.js';
import { ZoneClock } from '../../../src/recording/zone.js';
import { type SharedCohort, sharedCohort } from '../../../src/report/deidentify/shared-cohort.js';
import {
  elapsedTimes,
  type PatientTimes,
  shiftedTimes,
} from '../../../src/report/deidentify/shared-times.js';

const ZONE = 'Europe/Oslo';
const clock = new ZoneClock(ZONE);
const START = Date.parse('2031-02-11T19:00:00+01:00');
const HOUR = 3600;
const DAY = 86_400;

const COHORT = `Patient,Name,Age (years),Injury,Admission,GCS total,GCS motor,CT,Pupils reacting,Motor posturing,SBP (mmHg),Monitoring from,Monitoring to,Highest TIL,Craniectomy,Treatment withdrawn,Brain death,Death,GOSE,Outcome assessed,Notes
zebra-71,Invented Somebody,45,2031-02-11 16:00,2031-02-11 17:30,7,4,abnormal,2,no,95,2031-02-11 19:00,2031-02-14 08:00,11,2031-02-12 03:00,no,no,no,5,6 months,wife came at ten
gnu-9,Invented Nobody,94,2031-02-11,2031-02-11 18:30,3,1,normal,0,yes,80,2031-02-11,2031-02-12,,no,2031-02-13,no,2031-02-13,1,2031-08-11,
emu-5,,89,,,,,,,,,,,7.5,yes,,,,2,,
yak-3,,89.5,2031-02-10 10:00,,,,,,,,,,,,,,2031-02-11 19:00:01,dead,,
`;

const file = (text: string, name = 'cohort.csv') => ({
  path: name,
  name,
  open: async function* () {
    yield Buffer.from(text);
  },
});

const rowsOf = async (text: string, columns = {}, zone = ZONE): Promise<readonly CohortRow[]> => {
  const { rows, setAside } = await readTable('cohort', file(text), { zone, missing: [], columns });
  expect(setAside).toEqual([]);
  return rows;
};

const shared = async (times: PatientTimes | null): Promise<SharedCohort> =>
  sharedCohort(
    (await rowsOf(COHORT)).map((row, i) => ({ code: `PAAAAAAA${i + 2}`, row, times })),
    clock,
  );

const readAgain = ({ csv, timeKeys }: SharedCohort) =>
  rowsOf(csv, Object.fromEntries(timeKeys.map((key) => [key, { form: 'epochSeconds' }])), 'UTC');

const seconds = (moment: { utcMs: number } | { months: number } | null | undefined): number | null =>
  moment && 'utcMs' in moment ? moment.utcMs / 1000 : null;

describe('a shared cohort table', () => {
  it('is read again with all that is no time, and holds no other column', async () => {
    const table = await shared(elapsedTimes(START));
    expect(table.csv).not.toMatch(/Invented|wife|zebra|gnu|2031|Name|Notes/i);
    const [before, after] = [await rowsOf(COHORT), await readAgain(table)];
    const plain = (rows: readonly CohortRow[]) =>
      rows.map(
        ({
          gcsTotal,
          gcsMotor,
          ct,
          pupilsReacting,
          posturing,
          sbpMmHg,
          outcome,
          therapyIntensity,
          craniectomy,
          death,
        }) => ({
          ...{ gcsTotal, gcsMotor, ct, pupilsReacting, posturing, sbpMmHg, outcome, therapyIntensity },
          craniectomy: craniectomy?.happened ?? null,
          death: death?.happened ?? null,
        }),
      );
    expect(plain(after)).toEqual(plain(before));
    expect(after.map(({ id }) => id)).toEqual(['PAAAAAAA2', 'PAAAAAAA3', 'PAAAAAAA4', 'PAAAAAAA5']);
    expect(after.map(({ therapyIntensity }) => therapyIntensity)).toEqual([11, null, 7.5, null]);
    expect(after[0].assessed).toEqual({ months: 6 });
  });

  it('groups ages over 89 as 90, with a flag', async () => {
    const table = await shared(elapsedTimes(START));
    expect((await readAgain(table)).map(({ ageYears }) => ageYears)).toEqual([45, 90, 89, 90]);
    expect(table.csv.split('\r\n').map((line) => line.split(',')[2])).toEqual([
      'Age over 89',
      '',
      'yes',
      '',
      'yes',
      undefined,
    ]);
    expect(table.agesGrouped).toBe(2);
  });

  it('tells times in seconds since the start of monitoring', async () => {
    const [zebra, , , yak] = await readAgain(await shared(elapsedTimes(START)));
    expect(seconds(zebra.injury)).toBe(-3 * HOUR);
    expect(seconds(zebra.admission)).toBe(-1.5 * HOUR);
    expect(seconds(zebra.monitoringFrom)).toBe(0);
    expect(seconds(zebra.monitoringTo)).toBe(61 * HOUR);
    expect(seconds(zebra.craniectomy?.at)).toBe(8 * HOUR);
    // One second, which beside yes and no must not be read as yes.
    expect(yak.death).toEqual({ happened: true, at: { utcMs: 1000, endUtcMs: 1000, isDay: false } });
  });

  it('tells a day as the whole days between which it lies, and it is read as a day again', async () => {
    const table = await shared(elapsedTimes(START));
    const [, gnu] = await readAgain(table);
    const days = (moment: Moment | null | undefined) =>
      moment && [moment.utcMs / 1000 / DAY, moment.endUtcMs / 1000 / DAY, moment.isDay];
    // The day on which monitoring began lies on both sides of its start; the admission of it has a time.
    expect(days(gnu.injury)).toEqual([-1, 1, true]);
    expect(seconds(gnu.admission)).toBe(-0.5 * HOUR);
    expect(days(gnu.monitoringFrom)).toEqual([-1, 1, true]);
    expect(days(gnu.monitoringTo)).toEqual([0, 2, true]);
    expect(days(gnu.death?.at)).toEqual([1, 3, true]);
    expect(days(gnu.withdrawn?.at)).toEqual([1, 3, true]);
    expect(days(gnu.assessed as Moment)).toEqual([180, 182, true]);
    expect(table.csv).toContain('between -86400 and 86400');
    // The day lies inside: its start and end, which tell when monitoring began, are not in it.
    const [, was] = await rowsOf(COHORT);
    const withdrawn = was.withdrawn?.at ?? gnu.withdrawn?.at;
    expect(withdrawn && (withdrawn.utcMs - START) / 1000).toBe(29 * HOUR);
    expect(withdrawn && (withdrawn.endUtcMs - START) / 1000).toBe(53 * HOUR);
  });

  it('reads no other words among seconds', async () => {
    for (const cell of ['between 86400 and 0', 'between 1.5 and 3', 'from 0 to 86400']) {
      const { rows, setAside } = await readTable('cohort', file(`Patient,Injury\n1,${cell}\n2,60\n`), {
        ...{ zone: 'UTC', missing: [], columns: { injury: { form: 'epochSeconds' } } },
      });
      expect(rows.map(({ id }) => id)).toEqual(['2']);
      expect(setAside[0].reason).toContain('is no time that can be read');
    }
  });

  it('moves dates by whole days where they are shifted, and days stay days', async () => {
    const { csv } = await shared(shiftedTimes(START, 100, clock));
    const [zebra, gnu] = await rowsOf(csv, {}, 'UTC');
    const iso = (moment: { utcMs: number } | null | undefined): string =>
      new Date(moment?.utcMs ?? Number.NaN).toISOString().slice(0, 16);
    expect(iso(zebra.injury)).toBe('2031-05-22T16:00');
    expect(iso(gnu.death?.at)).toBe('2031-05-24T00:00');
    expect(gnu.death?.at?.isDay).toBe(true);
  });

  it('leaves out times of whom nothing says when monitoring began, and counts them', async () => {
    const table = await shared(null);
    expect(table.timesLeftOut).toBe(5 + 7 + 0 + 2);
    const [zebra, gnu] = await readAgain(table);
    expect([zebra.injury ?? null, gnu.death]).toEqual([null, { happened: true, at: null }]);
  });
});

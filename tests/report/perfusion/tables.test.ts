import { describe, expect, it } from 'vitest';
import { ZoneClock } from '../../../src/recording/zone.js';
import { minuteRows } from '../../../src/report/tables/minute-rows.js';
import { perfusionPatients } from '../../../src/report/tables/perfusion-patients.js';
import { perfusionTables } from '../../../src/report/tables/perfusion-tables.js';
import { tidyCsv } from '../../../src/report/tables/tidy-table.js';
import { curveOf, NO_PRX, perfused } from '../../support/perfusion.js';

const OSLO = new ZoneClock('Europe/Oslo');

describe('the table of minutes', () => {
  const minutes = {
    firstEnd: '2031-10-26T02:58:00+02:00',
    cppMmHg: [70.5, 71, null, 72],
    prx: [null, 0.25, null, -0.5],
    minuteIndex: [null, null, null, null],
    optimalCppMmHg: [null, null, null, 75.25],
  };

  it('has a row a minute with its offset, also across a change of the clock, and none of what is not known', () => {
    expect(minuteRows(minutes, OSLO)).toEqual([
      { end: '2031-10-26T02:58:00+02:00', cppMmHg: 70.5, prx: null, minuteIndex: null, optimalCppMmHg: null },
      { end: '2031-10-26T02:59:00+02:00', cppMmHg: 71, prx: 0.25, minuteIndex: null, optimalCppMmHg: null },
      { end: '2031-10-26T02:01:00+01:00', cppMmHg: 72, prx: -0.5, minuteIndex: null, optimalCppMmHg: 75.25 },
    ]);
  });

  it('is written blank where a figure is missing', () => {
    const recording = perfused({ id: '007', perfusion: { minutes } });
    const table = perfusionTables({ recordings: [withMorning(recording)] }, OSLO).find(
      ({ name }) => name === 'minutes',
    )!;
    expect(tidyCsv(table).split('\r\n').slice(0, 2)).toEqual([
      'patient,end,cppMmHg,prx,minuteIndex,optimalCppMmHg',
      '007,2031-10-26T02:58:00+02:00,70.5,,,',
    ]);
  });
});

/** What the tables of the morning need of a recording, all empty. */
const withMorning = (recording: ReturnType<typeof perfused>): ReturnType<typeof perfused> =>
  ({
    ...recording,
    icpRaw: recording.icp,
    episodes: [],
    episodesReason: null,
    nights: [],
    removed: [],
    largestRemovals: [],
    largeExcursions: [],
    agreement: null,
    bedside: { alarms: null, entries: null, drainOpen: [] },
    counts: { rowsRead: 1, rowsUsed: 1, rowsSetAside: 0 },
  }) as never;

describe('the tables of perfusion', () => {
  const hour = { start: '2031-02-11T19:00:00+01:00', end: '2031-02-11T20:00:00+01:00' };
  const recording = withMorning(
    perfused({
      id: '007',
      cpp: { meanMmHg: 70.25 },
      joint: {
        hours: [{ ...hour, bothHours: 0.5, icpAloneHours: 0, cppAloneHours: 0.25, neitherHours: 0.25 }],
      },
      prx: { hours: [{ ...hour, mean: 0.125, computableMinutes: 58 }] },
      perfusion: { curve: curveOf(75) },
    }),
  );
  const tables = perfusionTables({ recordings: [recording] }, OSLO);
  const rowsOf = (name: string) => tables.find((table) => table.name === name)?.rows;

  it('are those of the morning that are about more than a night, and four more', () => {
    const names = tables.map(({ name }) => name);
    for (const name of ['patients', 'hours', 'days', 'episodes', 'marked', 'cleaning'])
      expect(names).toContain(name);
    for (const name of ['perfusion', 'joint-hours', 'curve', 'minutes']) expect(names).toContain(name);
    for (const name of ['removals', 'agreement']) expect(names).not.toContain(name);
    expect(new Set(names).size).toBe(names.length);
  });

  it('describe each column that a row has, and have each that they describe', () => {
    for (const { name, columns, rows } of tables.filter((table) =>
      ['perfusion', 'joint-hours', 'curve'].includes(table.name),
    )) {
      expect(rows.length, name).toBeGreaterThan(0);
      for (const column of columns) expect(Object.keys(rows[0]), name).toContain(column.name);
    }
  });

  it('have joint hours beside PRx, and the bins of the curve', () => {
    expect(rowsOf('joint-hours')).toEqual([
      {
        patient: '007',
        ...hour,
        ...{ bothHours: 0.5, icpAloneHours: 0, cppAloneHours: 0.25, neitherHours: 0.25 },
        meanPrx: 0.125,
        prxMinutes: 58,
      },
    ]);
    expect(rowsOf('curve')).toHaveLength(12);
    expect(rowsOf('curve')?.[1]).toMatchObject({ fromMmHg: 50, toMmHg: 55, minutes: 70, isFitted: true });
  });

  it('have all figures of a patient in a row, and the reason where PRx is missing', () => {
    expect(rowsOf('perfusion')?.[0]).toMatchObject({
      patient: '007',
      cppMeanMmHg: 70.25,
      prxMean: -0.1,
      prxWhyNone: null,
    });
    const [row] = perfusionPatients({ recordings: [perfused({ prx: NO_PRX })] }).rows;
    expect(row).toMatchObject({ prxMean: null, prxWhyNone: NO_PRX.whyNone, optimalMeanMmHg: undefined });
  });

  it('takes the floor and the lowest band for what they are, also where they are one or the other way round', () => {
    const of = (floorHours: number, lowestMmHg: number, below: [number, number][]) => {
      const rest = below.map(([belowMmHg, hours]) => ({ belowMmHg, hours, doseMmHgHours: 2 * hours }));
      const bands = [{ fromMmHg: null, toMmHg: lowestMmHg, hours: 0 }];
      const cpp = { hoursBelowFloor: floorHours, doseBelowFloorMmHgHours: 2 * floorHours, bands };
      const { rows } = perfusionPatients({ recordings: [perfused({ cpp, perfusion: { below: rest } })] });
      return [rows[0].hoursBelowFloor, rows[0].hoursBelowLowest, rows[0].doseBelowLowestMmHgHours];
    };
    expect(
      of(3, 50, [
        [60, 3],
        [50, 1],
      ]),
    ).toEqual([3, 1, 2]);
    expect(of(3, 40, [[40, 3]])).toEqual([3, 3, 6]);
    expect(
      of(1, 50, [
        [50, 2],
        [45, 1],
      ]),
    ).toEqual([1, 2, 4]);
  });

  it('call what is investigational so, column by column', () => {
    const { columns } = tables.find(({ name }) => name === 'perfusion')!;
    for (const { name, says } of columns.filter((column) => column.name.startsWith('optimal')))
      expect(says, name).toMatch(/^Investigational: /);
    expect(tables.find(({ name }) => name === 'curve')?.says).toMatch(/^Investigational: /);
  });
});

import { describe, expect, it } from 'vitest';
import { type StudyMapResult, studyMaps } from '../../../src/report/results-study-map.js';
import { mapsResult } from '../../../src/report/study/maps-result.js';
import {
  CPP_INTENSITIES_MMHG,
  DURATIONS_MINUTES,
  ICP_INTENSITIES_MMHG,
} from '../../../src/summarize/study/intensity-grid.js';
import { intensityMap } from '../../../src/summarize/study/intensity-map.js';
import { STUDY_SEED } from '../../../src/summarize/study/study-settings.js';
import { inventedStudy } from '../../support/invented-study.js';
import { noise } from '../../support/noise.js';
import { dealt, withCoded, withGrids } from './changed-cohort.js';

const cohort = inventedStudy({ patients: 50, logOdds: 1.5, study: { resamples: 100 } });
const [icp, cpp] = mapsResult(cohort);
const FORMS = ['perDay', 'count'] as const;
const columns = DURATIONS_MINUTES.length;

/** The place of a cell in the lists. */
const cellOf = ({ intensitiesMmHg, durationsMinutes }: StudyMapResult, mmHg: number, minutes: number) =>
  intensitiesMmHg.indexOf(mmHg) * columns + durationsMinutes.indexOf(minutes);
const known = (map: StudyMapResult): number => map.perDay.rho.filter((rho) => rho !== null).length;
const stable = (map: StudyMapResult): number => map.perDay.isStable.filter(Boolean).length;

describe('the intensity-duration maps in results.json', () => {
  it('are what their schema says', () => {
    expect(studyMaps.parse([icp, cpp])).toEqual([icp, cpp]);
    expect(JSON.parse(JSON.stringify([icp, cpp]))).toEqual([icp, cpp]);
    expect([icp.channel, icp.side, cpp.channel, cpp.side]).toEqual(['icp', 'above', 'cpp', 'below']);
  });

  it('are the maps of the patients of the main analysis, to the last bit', () => {
    for (const [map, intensitiesMmHg] of [
      [icp, ICP_INTENSITIES_MMHG],
      [cpp, CPP_INTENSITIES_MMHG],
    ] as const) {
      const patients = cohort.groups.coded.flatMap(({ patient, code }) => {
        const grid = cohort.memberOf.get(patient.id)?.study?.grids[map.channel];
        return grid ? [{ ...grid, outcome: code }] : [];
      });
      const wanted = intensityMap({ intensitiesMmHg, durationsMinutes: DURATIONS_MINUTES }, patients, {
        resamples: 100,
        seed: STUDY_SEED,
      });
      expect(map.patients).toBe(patients.length);
      expect(map.patients + map.withoutChannel).toBe(cohort.groups.coded.length);
      expect(map.withEpisode).toEqual(wanted.cells.map(({ withEpisode }) => withEpisode));
      expect(map.cellPatients).toEqual(wanted.cells.map((cell) => cell.patients));
      for (const form of FORMS) {
        const numbers = (key: 'rho' | 'sameSignShare') =>
          wanted.cells.map((cell) => (typeof cell[form][key] === 'number' ? cell[form][key] : null));
        expect(map[form].rho).toEqual(numbers('rho'));
        expect(map[form].sameSignShare).toEqual(numbers('sameSignShare'));
        expect(map[form].isStable).toEqual(wanted.cells.map((cell) => cell[form].isStable));
        expect(map[form].zeroLine.map(({ minutes }) => minutes)).toEqual(
          wanted.zeroLine.map((line) => line[`${form}Minutes`]),
        );
      }
      expect(map.reason).toBeUndefined();
    }
    expect(cpp.withoutChannel).toBeGreaterThan(0);
  });

  it('are blank where fewer than ten patients have such an episode, and nowhere else', () => {
    for (const map of [icp, cpp]) {
      for (const form of FORMS) {
        const isBlank = map.withEpisode.map((patients) => patients < 10);
        const { rho, sameSignShare, isStable } = map[form];
        expect(rho.map((value) => value === null)).toEqual(isBlank);
        expect(isBlank.some((blank, at) => blank && (sameSignShare[at] !== null || isStable[at]))).toBe(
          false,
        );
      }
      expect(known(map)).toBeGreaterThan(300);
      expect(known(map)).toBeLessThan(map.perDay.rho.length);
    }
  });

  it('have the sign of a relation that is there', () => {
    // A higher level of ICP makes outcomes worse in these patients, and episodes above 20 mmHg more frequent.
    for (const minutes of [5, 20, 60]) {
      const at = cellOf(icp, 20, minutes);
      expect(icp.perDay.rho[at]).toBeLessThan(-0.2);
      expect(icp.perDay.isStable[at]).toBe(true);
    }
    expect(stable(icp) / known(icp)).toBeGreaterThan(0.4);
  });

  /**
   * Without a relation each draw's sign is that of the data plus chance of the same size, so the share of one sign is about
   * evenly spread from 0 to 1: it is 95 % or more in a twentieth of cohorts for each of the two signs, in a tenth for
   * both. Cells of one cohort go together, so that holds on average over cohorts only.
   */
  it('have one stable cell in ten where outcome is dealt out by chance', () => {
    const next = noise(99);
    const places = icp.intensitiesMmHg.flatMap((mmHg) =>
      mmHg % 4 > 0 ? [] : [3, 10, 30, 120].map((minutes) => cellOf(icp, mmHg, minutes)),
    );
    const grid = { intensitiesMmHg: places.map((_, i) => i), durationsMinutes: [1] };
    const shares = Array.from({ length: 120 }, () => {
      const { memberOf, groups } = dealt(cohort, next);
      const patients = groups.coded.flatMap(({ patient, code }) => {
        const own = memberOf.get(patient.id)?.study?.grids.icp;
        return own
          ? [{ ...own, firstDuration: 0, outcome: code, counts: places.map((at) => own.counts[at]) }]
          : [];
      });
      const { cells } = intensityMap(grid, patients, { resamples: 100, seed: STUDY_SEED });
      const there = cells.filter(({ perDay }) => typeof perDay.rho === 'number');
      return there.filter(({ perDay }) => perDay.isStable).length / there.length;
    });
    const mean = shares.reduce((a, b) => a + b) / shares.length;
    expect(mean).toBeGreaterThan(0.06);
    expect(mean).toBeLessThan(0.16);
    // As the page says: hardly any in half of the cohorts, more than half of the cells in a few.
    expect(shares.filter((share) => share < 0.06).length).toBeGreaterThanOrEqual(shares.length / 2);
    const many = shares.filter((share) => share > 0.5).length;
    expect(many).toBeGreaterThan(0);
    expect(many).toBeLessThan(shares.length / 8);
  });
});

describe('a map that cannot be made', () => {
  const reasons = (of: typeof cohort) => mapsResult(of).map(({ reason }) => reason);
  const isBlank = (map: StudyMapResult): boolean =>
    FORMS.every((form) => map[form].rho.every((rho) => rho === null));

  it('says so of five patients, and counts them', () => {
    const maps = mapsResult(withCoded(cohort, cohort.groups.coded.slice(0, 5)));
    expect(maps[0].reason).toBe(
      '5 patients have an outcome and ICP in the primary window, and a correlation needs 10',
    );
    expect(maps[0].patients).toBe(5);
    expect(Math.max(...maps[0].withEpisode)).toBe(5);
    expect(maps.every(isBlank)).toBe(true);
    expect(studyMaps.parse(maps)).toEqual(maps);
  });

  it('says so of one patient and of none', () => {
    expect(reasons(withCoded(cohort, cohort.groups.coded.slice(0, 1)))[0]).toBe(
      '1 patient has an outcome and ICP in the primary window, and a correlation needs 10',
    );
    const none = mapsResult(withCoded(cohort, []));
    expect(none.map(({ reason }) => reason)).toEqual([
      'no patient with an outcome has ICP in the primary window',
      'no patient with an outcome has CPP in the primary window',
    ]);
    expect(none[0].perDay.rho).toHaveLength(36 * columns);
    expect(studyMaps.parse(none)).toEqual(none);
  });

  it('says so where CPP is not there, and leaves the other map alone', () => {
    const maps = mapsResult(withGrids(cohort, (grids) => ({ ...grids, cpp: null })));
    expect(maps[0]).toEqual(icp);
    expect(maps[1].reason).toBe('no patient with an outcome has CPP in the primary window');
    expect([maps[1].patients, maps[1].withoutChannel]).toEqual([0, cohort.groups.coded.length]);
  });

  it('says so where all have the same outcome', () => {
    const same = withCoded(
      cohort,
      cohort.groups.coded.map((one) => ({ ...one, code: 1, isFavourable: false })),
    );
    expect(reasons(same)).toEqual([
      'all patients have the same outcome',
      'all patients have the same outcome',
    ]);
  });

  it('says so where nobody has episodes', () => {
    const quiet = withGrids(cohort, ({ icp: grid, cpp: other }) => ({
      icp: grid && { ...grid, counts: grid.counts.map(() => 0) },
      cpp: other,
    }));
    expect(reasons(quiet)[0]).toBe('no cell has 10 patients with such an episode, and the most is 0');
  });
});

describe('patients who are sampled too seldom', () => {
  it('are in the cells of long episodes alone', () => {
    const late = DURATIONS_MINUTES.indexOf(16);
    const of = withGrids(cohort, ({ icp: grid, cpp: other }, place) => ({
      icp: grid && { ...grid, firstDuration: place % 2 === 0 ? late : grid.firstDuration },
      cpp: other,
    }));
    const [map] = mapsResult(of);
    const at = (minutes: number): number => map.cellPatients[cellOf(map, 20, minutes)];
    expect(at(1)).toBe(0);
    expect(at(3)).toBeGreaterThan(0);
    expect(at(3)).toBe(at(14));
    expect(at(16)).toBe(map.patients);
    expect(at(3)).toBeLessThan(map.patients);
    expect(map.perDay.rho[cellOf(map, 20, 16)]).toBe(icp.perDay.rho[cellOf(icp, 20, 16)]);
  });
});

import { h } from 'preact';
import { beforeAll, describe, expect, it } from 'vitest';
import { renderSvg } from '../../../src/report/charts/render.js';
import { renderPage } from '../../../src/report/page/page.js';
import type { StudyMapResult } from '../../../src/report/results-study-map.js';
import { correlationMap, drawMaps, patientsMap } from '../../../src/report/study/map-drawings.js';
import { MapSection } from '../../../src/report/study/map-section.js';
import {
  alongWords,
  cellCounts,
  mapAnswer,
  mapSays,
  patientsSay,
  whoIsMissing,
} from '../../../src/report/study/map-words.js';
import { mapsResult } from '../../../src/report/study/maps-result.js';
import { inventedStudy } from '../../support/invented-study.js';
import { withCoded } from './changed-cohort.js';

const cohort = inventedStudy({ patients: 50, logOdds: 1.5, study: { resamples: 100 } });
const maps = mapsResult(cohort);
const [icp, cpp] = maps;

const pageOf = async (of: readonly StudyMapResult[]): Promise<string> =>
  renderPage({
    title: 'Maps',
    subtitle: 'invented',
    running: 'maps',
    children: h(MapSection, { maps: of, drawings: await drawMaps(of, renderSvg) }),
  });
const textOf = (html: string): string =>
  html
    .replace(/<svg.*?<\/svg>/gs, ' ')
    .replace(/<style.*?<\/style>/gs, ' ')
    .replace(/<[^>]+>/g, ' ')
    .replace(/\s+/g, ' ');

/** A map of one intensity at 20 mmHg with these correlations per day at 1, 2, 4 and 8 min. */
function small(rho: readonly (number | null)[], minutes: readonly number[] = []): StudyMapResult {
  const form = {
    rho: [...rho],
    sameSignShare: rho.map(() => 1),
    isStable: rho.map((value) => value !== null && Math.abs(value) > 0.3),
    zeroLine: [{ intensityMmHg: 20, minutes: [...minutes] }],
  };
  return {
    ...icp,
    patients: 30,
    withoutChannel: 0,
    intensitiesMmHg: [20],
    durationsMinutes: [1, 2, 4, 8],
    cellPatients: [30, 30, 30, 30],
    withEpisode: [25, 20, 15, 12],
    perDay: form,
    count: form,
  };
}

describe('a map in words', () => {
  it('tells along an intensity what more episodes go with, and where that changes', () => {
    expect(alongWords(small([-0.2, -0.1, -0.4, -0.1]), 'perDay', 0)).toBe('worse (1 to 8 min)');
    expect(alongWords(small([null, 0.1, 0.2, null]), 'perDay', 0)).toBe('better (2 to 4 min)');
    expect(alongWords(small([0.1, -0.1, -0.2, null], [1.5]), 'perDay', 0)).toBe(
      'better up to 1.5 min, worse from there (1 to 4 min)',
    );
    expect(alongWords(small([0.1, -0.1, 0.2, -0.2], [1.5, 2.7, 6]), 'perDay', 0)).toBe(
      'better at first, changing at 1.5, 2.7 and 6 min (1 to 8 min)',
    );
    expect(alongWords(small([-0.1, 0.1, null, 0.2], [1.5]), 'perDay', 0)).toBe(
      'worse up to 1.5 min, better from there (1 to 8 min, some blank)',
    );
    expect(alongWords(small([null, null, 0.2, null]), 'perDay', 0)).toBe('better (4 min)');
    expect(alongWords(small([0, 0, null, null]), 'perDay', 0)).toBe('0 (1 to 2 min)');
    expect(alongWords(small([null, null, null, null]), 'perDay', 0)).toBe('–');
  });

  it('answers with its cells by direction', () => {
    const start = 'ICP above (30 patients with an outcome and ICP): of 4 cells 4 have a correlation, and';
    expect(mapAnswer(small([-0.4, -0.4, 0.4, 0.1], [3]))).toBe(
      `${start} 3 are stable: in 2 of them more episodes per day go with a worse outcome, in 1 with a better one.`,
    );
    expect(mapAnswer(small([-0.4, -0.2, -0.1, -0.1]))).toBe(
      `${start} 1 is stable: in it more episodes per day go with a worse outcome.`,
    );
    expect(mapAnswer(small([0.1, 0.1, 0.1, 0.1]))).toBe(`${start} none is stable.`);
  });

  it('says who is not behind it', () => {
    expect(whoIsMissing(small([-0.1, -0.1, -0.1, -0.1]))).toBe('');
    expect(whoIsMissing({ ...small([-0.1, -0.1, -0.1, -0.1]), withoutChannel: 1 })).toBe(
      '1 patient has an outcome and no ICP in the primary window, and is not in this map.',
    );
    expect(whoIsMissing({ ...small([-0.1, -0.1, -0.1, -0.1]), cellPatients: [0, 20, 30, 30] })).toBe(
      'Episodes of 1 min can be told of none of the 30 patients, and of all from 4 min on: values of the others stand too far apart for shorter ones. A cell is of the patients of whom it can be told.',
    );
    expect(whoIsMissing({ ...small([-0.1, -0.1, -0.1, -0.1]), cellPatients: [12, 20, 28, 28] })).toBe(
      'Episodes of 1 min can be told of 12 of the 30 patients, and of some none of any duration: their values stand too far apart. A cell is of the patients of whom it can be told.',
    );
  });

  it('gives a reader who cannot see it the same numbers', () => {
    const { known, worse, worseStable, better, betterStable } = cellCounts(icp, 'perDay');
    expect(mapSays(icp, 'perDay')).toContain(
      `Of 1440 cells ${known} have one: ${worse} with a worse outcome, ${worseStable} of them stable, ${better} with a better one, ${betterStable} of them stable.`,
    );
    expect(mapSays(icp, 'perDay')).toContain('45 mmHg: blank for all durations');
    expect(patientsSay(icp)).toContain(`20 mmHg: ${icp.withEpisode[400]} of 1 min, `);
  });
});

describe('what is drawn', () => {
  it('is what the results hold', () => {
    expect(correlationMap(cpp, 'count')).toMatchObject({
      channel: 'cpp',
      side: 'below',
      values: cpp.count.rho,
      dotted: cpp.count.isStable,
    });
    patientsMap(icp).values.forEach((value, at) => {
      expect(value).toBe(icp.withEpisode[at] < 10 ? null : icp.withEpisode[at]);
    });
  });
});

describe('the section of maps', () => {
  let html: string;
  let text: string;
  beforeAll(async () => {
    html = await pageOf(maps);
    text = textOf(html);
  });

  it('tells the numbers of the results', () => {
    for (const map of maps) {
      expect(text).toContain(mapAnswer(map));
      for (const form of ['perDay', 'count'] as const) {
        const { cells, known, worse, worseStable, better, betterStable } = cellCounts(map, form);
        expect(known).toBe(map[form].rho.filter((rho) => rho !== null).length);
        expect(worseStable + betterStable).toBe(map[form].isStable.filter(Boolean).length);
        expect(text).toContain(`${known} of ${cells} ${worse} ${worseStable} ${better} ${betterStable}`);
      }
      const row = map.intensitiesMmHg.indexOf(map.channel === 'icp' ? 20 : 70);
      const patients = map.withEpisode[row * 40 + map.durationsMinutes.indexOf(5)];
      expect(text).toContain(
        `${map.intensitiesMmHg[row]} ${patients} ${alongWords(map, 'perDay', row)} ${alongWords(map, 'count', row)}`,
      );
    }
  });

  it('says that it is no test, no effect and no limit, and where it comes from', () => {
    expect(text).toContain('This is no test.');
    expect(text).toContain('It is an association and not an effect');
    expect(text).toContain('No line or cell of it is a limit.');
    expect(text).toContain('Guiza et al., Intensive Care Med 2015;41:1067-76');
    expect(text).toContain('a cell under 10 patients with such an episode is blank');
    expect(text).toContain('95 % or more of 100 draws of patients have its sign');
  });

  it('has three charts a channel, each with a title and a text', () => {
    expect(html.match(/<svg role="img" aria-label="[^"]{100,}"/g)).toHaveLength(6);
    expect(text).toContain(
      'ICP above each intensity: correlation of episodes per monitored day with outcome',
    );
    expect(text).toContain(
      'CPP below each intensity: correlation of episodes per monitored day with outcome',
    );
    expect(html.length).toBeLessThan(300_000);
  });

  it('names no patient', () => {
    for (const { patient } of cohort.groups.coded) expect(text).not.toContain(patient.id);
  });

  it('has a sentence and no chart where five patients are all there are', async () => {
    const few = await pageOf(mapsResult(withCoded(cohort, cohort.groups.coded.slice(0, 5))));
    expect(few).not.toContain('<svg');
    expect(textOf(few)).toContain(
      'ICP above (5 patients with an outcome and ICP): there is no map, since 5 patients have an outcome and ICP in the primary window, and a correlation needs 10.',
    );
    expect(textOf(few)).not.toContain('NaN');
  });

  it('has the map of one channel where the other has none', async () => {
    const half = await pageOf([
      icp,
      { ...cpp, patients: 0, reason: 'no patient with an outcome has CPP in the primary window' },
    ]);
    expect(half.match(/<svg /g)).toHaveLength(3);
    expect(textOf(half)).toContain(
      'CPP below (0 patients with an outcome and CPP): there is no map, since no patient with an outcome has CPP in the primary window.',
    );
  });
});

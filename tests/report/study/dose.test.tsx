import type { Browser } from 'playwright-core';
import { h } from 'preact';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { renderSvg } from '../../../src/report/charts/render.js';
import { doseRange, studyDoseSpec } from '../../../src/report/charts/study-dose.js';
import { renderPage } from '../../../src/report/page/page.js';
import { estimateResult } from '../../../src/report/results-estimate.js';
import { type StudyDoseResult, studyDose } from '../../../src/report/results-study-dose.js';
import { described } from '../../../src/report/study/asked-result.js';
import { drawDose } from '../../../src/report/study/dose-drawings.js';
import { doseResult } from '../../../src/report/study/dose-result.js';
import { DoseSection } from '../../../src/report/study/dose-section.js';
import {
  doseRemarks,
  doseSays,
  doseValues,
  pText,
  rangeText,
  shareWithBounds,
  titleWithUnit,
} from '../../../src/report/study/dose-words.js';
import { doseResponse } from '../../../src/summarize/study/analysis/dose-response.js';
import { openChromium } from '../../support/chromium.js';
import { inventedStudy } from '../../support/invented-study.js';
import { LABEL_FAULTS } from '../../support/label-faults.js';
import { withCoded } from './changed-cohort.js';

const FEATURES = {
  icpMeanMmHg: 5,
  icpDoseAbove22MmHgHours: 10,
  icpShareAbove22: 0.1,
  icpEpisodesPerDay: 1,
  prxMean: 0.1,
};
const cohort = inventedStudy({
  patients: 60,
  logOdds: 1.5,
  study: { resamples: 100, quantiles: 3, features: FEATURES },
});
const dose = doseResult(cohort);
const OUTCOME = { words: cohort.groups.words };
const byKey = (key: string): StudyDoseResult => {
  const found = dose.find((one) => one.key === key);
  if (!found) throw new Error(`no ${key}`);
  return found;
};

const pageOf = async (of: readonly StudyDoseResult[]): Promise<string> =>
  renderPage({
    title: 'Dose',
    subtitle: 'invented',
    running: 'dose',
    children: h(DoseSection, { dose: of, drawings: await drawDose(of, renderSvg), outcome: OUTCOME }),
  });
const textOf = (html: string): string =>
  html
    .replace(/<svg.*?<\/svg>/gs, ' ')
    .replace(/<style.*?<\/style>/gs, ' ')
    .replace(/<[^>]+>/g, ' ')
    .replaceAll('&lt;', '<')
    .replace(/\s+/g, ' ');

describe('outcome over burden in results.json', () => {
  it('is what its schema says, a part for each chosen feature', () => {
    expect(studyDose.parse(dose)).toEqual(dose);
    expect(JSON.parse(JSON.stringify(dose))).toEqual(dose);
    expect(dose.map(({ key }) => key)).toEqual(Object.keys(FEATURES));
  });

  it('is the dose-response of the feature, to the last bit', () => {
    for (const one of dose) {
      const wanted = doseResponse(cohort.groups, one.key, 3);
      expect(one).toMatchObject({ ...described(cohort, one.key), known: wanted.known });
      if ('reason' in wanted.byQuantile) {
        expect([one.groups, one.groupsReason]).toEqual([null, wanted.byQuantile.reason]);
      } else {
        expect(one.groups).toEqual(
          wanted.byQuantile.groups.map((group) => ({ ...group, share: estimateResult(group.share) })),
        );
        expect([one.hasZeroGroup, one.remarks]).toEqual([
          wanted.byQuantile.hasZeroGroup,
          wanted.byQuantile.remarks,
        ]);
      }
      if ('reason' in wanted.curve) {
        expect([one.curve, one.curveReason]).toEqual([null, wanted.curve.reason]);
      } else {
        const { points, ...rest } = wanted.curve;
        expect(one.curve).toEqual({
          ...rest,
          points: points.map(({ at, probability, lower, upper }) => ({
            at,
            share: probability,
            lower,
            upper,
          })),
        });
      }
    }
    expect(byKey('icpMeanMmHg').groups).toHaveLength(3);
    expect(byKey('icpMeanMmHg').curve).not.toBeNull();
  });

  it('has the median of each group between its ends', () => {
    for (const { groups } of dose) {
      for (const { from, median, to } of groups ?? []) {
        expect(median).toBeGreaterThanOrEqual(from);
        expect(median).toBeLessThanOrEqual(to);
      }
    }
    // Of patients: as many of a group lie at or under its median as at or above it.
    const values = cohort.groups.coded.map(({ patient }) => Number(patient.features.icpMeanMmHg));
    for (const { from, median, to } of byKey('icpMeanMmHg').groups ?? []) {
      const own = values.filter((value) => value >= from && value <= to);
      expect(own.filter((value) => value <= median).length).toBe(
        own.filter((value) => value >= median).length,
      );
    }
  });

  it('goes up with a relation that is there', () => {
    const { groups, curve } = byKey('icpMeanMmHg');
    const shares = (groups ?? []).map(({ share }) => Number(share.value));
    expect(shares[2]).toBeGreaterThan(shares[0] + 0.2);
    expect(curve?.association.p).toBeLessThan(0.05);
  });

  it('is a reason for a feature that nobody has, and for five patients', () => {
    expect(byKey('prxMean')).toMatchObject({
      known: 0,
      groups: null,
      groupsReason: 'no patient with an outcome has a value',
      curve: null,
      curveReason: 'no patient with an outcome has a value',
    });
    const [few] = doseResult(withCoded(cohort, cohort.groups.coded.slice(0, 5)));
    expect(few.groupsReason).toBe('5 patients have a value and an outcome, and a comparison needs 10');
  });

  it('is a reason where there is one outcome group', () => {
    const one = cohort.groups.coded.filter(({ isFavourable }) => isFavourable);
    expect(doseResult(withCoded(cohort, one))[0].groupsReason).toBe(
      'no patient with a value has an unfavourable outcome',
    );
  });
});

const curveOf = (...at: number[]): NonNullable<StudyDoseResult['curve']> => ({
  knots: at,
  points: at.map((x) => ({ at: x, share: 0.4, lower: 0.2, upper: 0.6 })),
  association: { chiSquare: 6.12, freedom: 2, p: 0.047 },
  nonLinearity: { chiSquare: 0.4, freedom: 1, p: 0.53 },
  eventsPerVariable: 6.5,
  hasFewEvents: true,
});
const groupOf = (from: number, to: number): NonNullable<StudyDoseResult['groups']>[number] => ({
  from,
  to,
  median: (from + Math.min(to, 3 * from + 1)) / 2,
  patients: 12,
  unfavourable: 5,
  share: { value: 5 / 12, lower: 0.19, upper: 0.68 },
});
const small: StudyDoseResult = {
  key: 'x',
  title: 'Dose of ICP above 22 mmHg',
  unit: 'mm[Hg].h',
  known: 24,
  groups: [groupOf(0, 0), groupOf(1, 400)],
  hasZeroGroup: true,
  remarks: [],
  curve: curveOf(0, 5, 20),
};

describe('outcome over burden in words', () => {
  it('writes values with their unit, and what is small with more digits', () => {
    expect(titleWithUnit(small)).toBe('Dose of ICP above 22 mmHg (mmHg·h)');
    expect(titleWithUnit({ title: 'Mean PRx', unit: '1' })).toBe('Mean PRx');
    expect(titleWithUnit({ title: 'Episodes', unit: '{episodes}/d' })).toBe('Episodes (episodes a day)');
    const text = (to: number, unit = 'h') => doseValues({ ...small, unit, groups: [groupOf(0, to)] });
    expect([0, 0.04, 12.34].map(text(40))).toEqual(['0', '< 0.1', '12.3']);
    expect([0.123, 3.456].map(text(4))).toEqual(['0.12', '3.46']);
    expect([-0.123, 0.456].map(text(0.5, '1'))).toEqual(['−0.12', '0.46']);
    expect([3, 12.4].map(text(12.4, 'min'))).toEqual(['3', '12']);
    expect(rangeText({ from: 2, to: 2 }, text(40))).toBe('2.0');
    expect(rangeText({ from: 2, to: 3 }, text(40))).toBe('2.0 to 3.0');
    expect([0.0004, 0.0312, 0.53].map(pText)).toEqual(['< 0.001', '0.031', '0.53']);
    expect(shareWithBounds({ value: 0.25, lower: 0.123, upper: 0.44 })).toBe('25 % (12 to 44 %)');
    expect(shareWithBounds({ value: null, lower: null, upper: null, reason: 'none' })).toBe('–');
  });

  it('says what a chart cuts, that events are few, and why there is no curve', () => {
    expect(doseRemarks(small)).toEqual([
      'The last group reaches to 400.0, beyond the chart.',
      '6.5 patients of the smaller outcome group for each term of the curve are few (under 10): its shape rests on little.',
    ]);
    const { curve: _, ...rest } = small;
    expect(doseRemarks({ ...rest, curve: null, curveReason: 'knots fall together' })).toContain(
      'There is no curve: knots fall together. What can be said stands in the groups.',
    );
  });

  it('tells groups and curve to a reader who cannot see them', () => {
    expect(doseSays(small)).toBe(
      'Unfavourable outcome by Dose of ICP above 22 mmHg (mmHg·h). Groups: 0 mmHg·h: 5 of 12 patients, 42 % (19 to 68 %); 1.0 to 400.0 mmHg·h: 5 of 12 patients, 42 % (19 to 68 %). Curve: 40 % (20 to 60 %) at 0 mmHg·h, 40 % (20 to 60 %) at 5.0 mmHg·h and 40 % (20 to 60 %) at 20.0 mmHg·h.',
    );
  });
});

describe('the section of outcome over burden', () => {
  let html: string;
  let text: string;
  beforeAll(async () => {
    html = await pageOf(dose);
    text = textOf(html);
  });

  it('tells the numbers of the results', () => {
    for (const one of dose) {
      if (one.groups === null) {
        expect(text).toContain(`${one.title}: there is no chart, since ${one.groupsReason}.`);
        continue;
      }
      for (const group of one.groups) {
        expect(text).toContain(
          `${rangeText(group, doseValues(one))} ${group.unfavourable} of ${group.patients} ${shareWithBounds(group.share)}`,
        );
      }
      const { curve } = one;
      if (curve === null) continue;
      for (const { chiSquare, freedom, p } of [curve.association, curve.nonLinearity]) {
        expect(text).toContain(`${chiSquare.toFixed(1)} (${freedom}), p ${p < 0.001 ? '' : '= '}${pText(p)}`);
      }
      expect(text).toContain(curve.eventsPerVariable.toFixed(1));
    }
  });

  it('has a chart for each feature that has one, with its title and a text', () => {
    const drawn = dose.filter(({ groups }) => groups !== null);
    expect(html.match(/<svg role="img" aria-label="Unfavourable outcome by [^"]{100,}"/g)).toHaveLength(
      drawn.length,
    );
    for (const one of drawn) {
      expect(html).toContain(`<strong>${one.title}</strong>, ${one.known} patients`);
      expect(html).toContain('unfavourable outcome (%)');
    }
    expect(html).toContain('Dose of ICP above 22 mmHg (mmHg·h)</text>');
  });

  it('says that no place is a limit, and names no patient', () => {
    expect(text).toContain(
      'No place on a curve is a limit, no edge of a group is one, and no cut was searched for.',
    );
    expect(text).toContain('It is an association and not an effect.');
    expect(text).toContain('(GOSE 1 to 4)');
    for (const { patient } of cohort.groups.coded) expect(text).not.toContain(` ${patient.id} `);
  });

  it('has sentences and no chart where nothing can be compared', async () => {
    const none = await pageOf(doseResult(withCoded(cohort, cohort.groups.coded.slice(0, 5))));
    expect(none).not.toContain('<svg');
    expect(textOf(none)).toContain(
      'Mean ICP: there is no chart, since 5 patients have a value and an outcome, and a comparison needs 10.',
    );
  });
});

describe('the chart of outcome over burden', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openChromium();
  });
  afterAll(() => browser.close());

  it('cuts a last group that would squeeze all others, and shows one that reaches a little further', () => {
    expect(doseRange(small)).toEqual({ from: 0, to: 20, isCut: true });
    expect(doseRange({ ...small, groups: [groupOf(0, 0), groupOf(1, 24)] })).toEqual({
      from: 0,
      to: 24,
      isCut: false,
    });
  });

  it('can be drawn of groups alone, and of one place', async () => {
    for (const one of [
      { ...small, curve: null },
      { ...small, groups: [groupOf(3, 3)], curve: null },
    ]) {
      const svg = await renderSvg(studyDoseSpec(one, titleWithUnit(one)), 'dose');
      expect(svg).not.toContain('NaN');
      expect(svg).toContain('unfavourable outcome (%)');
    }
  });

  it('has labels that are whole and apart, in two fonts', async () => {
    const page = await browser.newPage();
    const titles = [
      'Mean ICP (mmHg)',
      'Share of monitored time with ICP above 22 mmHg',
      'Dose of ICP above 22 mmHg per monitored hour (mmHg)',
      'Episodes of raised ICP per monitored day (episodes a day)',
    ];
    for (const [i, title] of titles.entries()) {
      const one = i === 3 ? { ...small, curve: curveOf(0.001, 0.02, 0.04), groups: null } : small;
      const svg = await renderSvg(studyDoseSpec(one, title), 'dose');
      for (const font of ['Helvetica', 'DejaVu Sans']) {
        await page.setContent(`<style>svg, svg * { font-family: '${font}' !important }</style>${svg}`);
        expect(await page.evaluate(LABEL_FAULTS), `${title} ${font}`).toEqual([]);
      }
    }
  });
});

import { describe, expect, it } from 'vitest';
import { studyDaysSpec } from '../../../src/report/charts/study-days.js';
import { studyDays } from '../../../src/report/results-study-cohort.js';
import { drawCohort } from '../../../src/report/study/cohort-drawings.js';
import { dayFeatureKeys, daysResult, LAST_DAY } from '../../../src/report/study/days-result.js';
import { DaysSection } from '../../../src/report/study/days-section.js';
import { daysSay, whoseDays } from '../../../src/report/study/days-words.js';
import { featureNumber, featureUnit } from '../../../src/report/study/feature-number.js';
import { outcomeResult } from '../../../src/report/study/outcome-result.js';
import { inventedStudy } from '../../support/invented-study.js';
import { type Given, gose, smallStudy, textOf } from './small-cohort.js';

const mean = (value: number) => ({ icpMeanMmHg: value });
const untold = { icpMeanMmHg: { reason: 'no ICP in this time' } };
const study = { features: { icpMeanMmHg: 5 } };

/** Four of the main analysis with days, one without, and two whose days do not count. */
const PEOPLE: readonly Given[] = [
  { id: '1', row: gose(8), days: { 1: mean(10), 2: mean(12), 15: mean(99) } },
  { id: '2', row: gose(7), days: { 1: mean(20), 3: untold } },
  { id: '3', row: gose(1), days: { 1: mean(30), 2: untold, 4: untold } },
  { id: '4', row: gose(2), days: { 2: mean(40) } },
  { id: '5', row: gose(2), days: 'the time of the injury is not known' },
  { id: '6', row: {}, days: { 1: mean(1000) } },
  { id: '7', row: gose(3), hours: 3, days: { 1: mean(1000) } },
];

describe('days since injury', () => {
  const days = studyDays.parse(daysResult(smallStudy(PEOPLE, study)));

  it('are counted by hand over the main analysis, up to the last day that is told', () => {
    const [feature] = days.features;
    expect(feature).toMatchObject({ key: 'icpMeanMmHg', title: 'Mean ICP', unit: 'mm[Hg]' });
    // Days 3 and 4 are known of nobody.
    expect(feature.days.map(({ day }) => day)).toEqual([1, 2]);
    const [one, two] = feature.days;
    expect(one.favourable).toEqual({
      median: 15,
      lowerQuartile: 12.5,
      upperQuartile: 17.5,
      known: 2,
      missing: 0,
    });
    expect(one.unfavourable).toMatchObject({ median: 30, known: 1, missing: 0 });
    expect(two.favourable).toMatchObject({ median: 12, known: 1, missing: 0 });
    expect(two.unfavourable).toMatchObject({ median: 40, known: 1, missing: 1 });
    expect(LAST_DAY).toBe(14);
  });

  it('count of whom they can be told, and why not of the others', () => {
    expect(days.withDays).toBe(4);
    expect(days.noDays).toEqual([{ why: 'the time of the injury is not known', patients: 1 }]);
    expect(days.reason).toBeUndefined();
    expect(whoseDays(days)).toBe(
      'Days can be told of 4 of the 5 patients of the main analysis (not of 1: the time of the injury is not known).',
    );
  });

  it('say why where there is nothing to tell', () => {
    const reasonOf = (people: readonly Given[]) => daysResult(smallStudy(people, study)).reason;
    expect(reasonOf([])).toBe('nobody is in the main analysis');
    expect(reasonOf([{ id: '1', row: gose(5), days: 'the time of the injury is not known' }])).toBe(
      'days since injury cannot be told of any patient',
    );
    expect(reasonOf([{ id: '1', row: gose(5), days: { 1: untold } }])).toBe(
      'no chosen feature is known on any day',
    );
  });

  it('are of rates in the place of totals, and of no score of the patient', () => {
    const keys = (...chosen: string[]) => dayFeatureKeys(chosen.map((key) => ({ key })));
    expect(keys('icpMeanMmHg', 'icpDoseAbove22MmHgHours', 'icpHoursAbove22', 'icpEpisodes')).toEqual([
      'icpMeanMmHg',
      'icpDosePerHourAbove22MmHg',
      'icpShareAbove22',
      'icpEpisodesPerDay',
    ]);
    expect(keys('icpShareAbove22', 'icpHoursAbove22')).toEqual(['icpShareAbove22']);
    expect(keys('therapyIntensity')).toEqual([]);
  });

  it('lose patients from day to day, and never find any, in a cohort made from signals', () => {
    const cohort = inventedStudy({ patients: 16, seed: 6 });
    const result = studyDays.parse(daysResult(cohort));
    const reached = result.features[0].days.map(
      ({ favourable, unfavourable }) => favourable.known + unfavourable.known,
    );
    expect(reached[0]).toBe(result.withDays);
    expect(reached).toEqual([...reached].sort((a, b) => b - a));
    expect(reached.at(-1)).toBeLessThan(reached[0]);
    expect(result.withDays + result.noDays.reduce((sum, { patients }) => sum + patients, 0)).toBe(
      cohort.groups.coded.length,
    );
    // Values a minute apart show no PRx.
    expect(result.features.find(({ key }) => key === 'prxMean')?.days).toEqual([]);
  });
});

describe('the section on days', () => {
  const cohort = smallStudy(PEOPLE, study);
  const days = daysResult(cohort);
  const outcome = outcomeResult(cohort);

  it('says in words what the chart shows, and how many patients each day rests on', () => {
    expect(daysSay(days.features[0])).toBe(
      'Mean ICP, median and quartiles. Day 1: favourable 15.0 (12.5 to 17.5), 2 patients; unfavourable 30.0 (30.0 to 30.0), 1 patient. Day 2: favourable 12.0 (12.0 to 12.0), 1 patient; unfavourable 40.0 (40.0 to 40.0), 1 patient.',
    );
    const text = textOf(<DaysSection days={days} outcome={outcome} svgs={['<svg ></svg>']} />);
    expect(text).toContain('Mean ICP, mmHg');
    expect(text).toContain('1 15.0 (12.5 to 17.5) 2 30.0 (30.0 to 30.0) 1');
    expect(text).toContain('2 12.0 (12.0 to 12.0) 1 40.0 (40.0 to 40.0) 1 of 2');
    expect(text).toContain('Fewer patients are left from day to day');
  });

  it('names what is not known on any day, and says why nothing can be told', async () => {
    const both = smallStudy(PEOPLE, { features: { icpMeanMmHg: 5, prxMean: 0.1 } });
    const result = daysResult(both);
    const { days: svgs } = await drawCohort({ outcome, days: result }, async (_, key) => `<svg id="${key}">`);
    expect(svgs).toEqual(['<svg id="study-days-1">', null]);
    expect(textOf(<DaysSection days={result} outcome={outcome} svgs={svgs} />)).toContain(
      'Not known on any day: Mean PRx.',
    );
    const nobody = daysResult(smallStudy([], study));
    expect(textOf(<DaysSection days={nobody} outcome={outcome} svgs={[null]} />)).toBe(
      'Day by day Cannot be told: nobody is in the main analysis.',
    );
  });

  it('writes figures with the digits of their kind', () => {
    const number = (key: string, unit: string, value: number) => featureNumber({ key, unit }, value);
    expect(number('icpMeanMmHg', 'mm[Hg]', 18.249)).toBe('18.2');
    expect(number('icpDosePerHourAbove22MmHg', 'mm[Hg]', 0.041)).toBe('0.04');
    expect(number('icpShareAbove22', '1', 0.1234)).toBe('12.3');
    expect(number('prxMean', '1', -0.114)).toBe('−0.11');
    expect(number('prxMean', '1', -0.001)).toBe('0.00');
    expect(number('icpLongestEpisodeMinutes', 'min', 12.6)).toBe('13');
    expect(
      [
        ['icpShareAbove22', '1'],
        ['prxMean', '1'],
        ['icpDoseAbove22MmHgHours', 'mm[Hg].h'],
        ['icpEpisodesPerDay', '{episodes}/d'],
        ['icpHoursAbove22', 'h'],
      ].map(([key, unit]) => featureUnit({ key, unit })),
    ).toEqual(['%', '', 'mmHg·h', 'episodes a day', 'h']);
  });
});

interface Layer {
  readonly mark: { readonly type: string };
  readonly data: { readonly values: readonly Record<string, number | string>[] };
}

describe('the chart of days', () => {
  const spec = (people: readonly Given[]) => {
    const [feature] = daysResult(smallStudy(people, study)).features;
    return studyDaysSpec(feature, 'mmHg', false) as unknown as {
      vconcat: [
        { layer: Layer[]; encoding: { y: { scale: { domain: [number, number] } } } },
        { layer: Layer[] },
      ];
    };
  };
  const values = (layers: Layer[], type: string) =>
    layers.filter(({ mark }) => mark.type === type).flatMap(({ data }) => data.values);

  it('has medians and quartiles of both groups beside the day, and the patients below it', () => {
    const [plot, numbers] = spec(PEOPLE).vconcat;
    expect(values(plot.layer, 'point').map(({ x, y }) => [Math.round(Number(x)), y])).toEqual([
      [1, 15],
      [2, 12],
      [1, 30],
      [2, 40],
    ]);
    expect(values(plot.layer, 'rule').map(({ low, high }) => [low, high])).toEqual([
      [12.5, 17.5],
      [12, 12],
      [30, 30],
      [40, 40],
    ]);
    expect(values(numbers.layer, 'text').map(({ says }) => says)).toEqual([
      '2',
      '1',
      'favourable',
      '1',
      '1',
      'unfavourable',
    ]);
  });

  it('leaves a group without a point where nobody of it is known, and counts it as 0', () => {
    const [plot, numbers] = spec([{ id: '1', row: gose(8), days: { 1: mean(10) } }]).vconcat;
    expect(values(plot.layer, 'point')).toHaveLength(1);
    expect(values(numbers.layer, 'text').map(({ says }) => says)).toContain('0');
    expect(plot.encoding.y.scale.domain[0]).toBeLessThan(10);
    expect(plot.encoding.y.scale.domain[1]).toBeGreaterThan(10);
  });

  it('begins at 0 where values come near it, and never below it', () => {
    const near = (...values: number[]): Given[] =>
      values.map((value, i) => ({ id: `${i}`, row: gose(8), days: { 1: mean(value) } }));
    expect(spec(near(1, 5, 12)).vconcat[0].encoding.y.scale.domain[0]).toBe(0);
    expect(spec(near(0, 0)).vconcat[0].encoding.y.scale.domain).toEqual([0, 0.08]);
    expect(spec(near(20, 21, 22)).vconcat[0].encoding.y.scale.domain[0]).toBeGreaterThan(19);
  });
});

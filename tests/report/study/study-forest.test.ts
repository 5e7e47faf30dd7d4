import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it, test } from 'vitest';
import { logTicks } from '../../../src/report/charts/log-ticks.js';
import { renderSvg } from '../../../src/report/charts/render.js';
import {
  FOREST_COLOURS,
  FOREST_LIMITS,
  type ForestOdds,
  type ForestRow,
  forestDomain,
  forestSpec,
  MOST_FOREST_ROWS,
} from '../../../src/report/charts/study-forest.js';
import { drawFeatures, forestRows } from '../../../src/report/study/feature-drawings.js';
import { openChromium } from '../../support/chromium.js';
import { LABEL_FAULTS } from '../../support/label-faults.js';
import { analysed, withGose } from './analysed.js';

const odds = (
  value: number | null,
  lower: number | null,
  upper: number | null,
  isPenalised = false,
): ForestOdds => ({
  value,
  lower,
  upper,
  isPenalised,
});
const row = (unadjusted: ForestOdds | null, adjusted: ForestOdds | null = null): ForestRow => ({
  name: 'Mean ICP',
  step: 'per 5 mmHg',
  unadjusted,
  adjusted,
});

interface Layer {
  readonly data: {
    readonly values: readonly { readonly x: number; readonly x2?: number; readonly y: number }[];
  };
  readonly mark: {
    readonly type: string;
    readonly shape?: string;
    readonly color?: string;
    readonly stroke?: string;
    readonly angle?: number;
    readonly fill?: string;
  };
}

function layersOf(rows: readonly ForestRow[]): Layer[] {
  const spec = forestSpec(rows) as { vconcat: [{ layer: Layer[] }] };
  return spec.vconcat[0].layer;
}

const linesOf = (rows: readonly ForestRow[], color: string) =>
  layersOf(rows)
    .filter(({ mark }) => mark.type === 'rule' && mark.color === color && !('strokeDash' in mark))
    .flatMap(({ data }) => data.values);
const pointsOf = (rows: readonly ForestRow[], shape: string, hollow = false) =>
  layersOf(rows)
    .filter(({ mark }) => mark.shape === shape && (mark.fill !== undefined) === hollow)
    .flatMap(({ data }) => data.values.map(({ x }) => x));
const arrowsOf = (rows: readonly ForestRow[]) =>
  layersOf(rows)
    .filter(({ mark }) => mark.shape === 'triangle-up')
    .flatMap(({ mark, data }) => data.values.map(({ x }) => [mark.angle, x]));

describe('the chart of odds ratios', () => {
  it('has a mark and a line for each odds ratio, unadjusted above adjusted, in their own colours', () => {
    const rows = [row(odds(2, 1.5, 3), odds(1.8, 1.2, 2.9)), row(odds(0.8, 0.6, 1.1))];
    expect(pointsOf(rows, 'circle')).toEqual([2, 0.8]);
    expect(pointsOf(rows, 'square')).toEqual([1.8]);
    const [alone, ...others] = linesOf(rows, FOREST_COLOURS.unadjusted);
    expect([alone.x, alone.x2]).toEqual([1.5, 3]);
    expect(others).toMatchObject([{ x: 0.6, x2: 1.1 }]);
    const [adjusted] = linesOf(rows, FOREST_COLOURS.adjusted);
    expect(adjusted).toMatchObject({ x: 1.2, x2: 2.9 });
    expect(alone.y).toBeLessThan(adjusted.y);
    expect(arrowsOf(rows)).toEqual([]);
  });

  it('cuts intervals at the edge, with an arrow where they go on, and draws no mark beyond it', () => {
    const [least, most] = FOREST_LIMITS;
    const rows = [row(odds(5, 1.2, 400), odds(0.01, 0.001, 0.5)), row(odds(500, 30, 9000))];
    expect(forestDomain(rows)).toEqual([least, most]);
    expect(linesOf(rows, FOREST_COLOURS.unadjusted)).toMatchObject([
      { x: 1.2, x2: most },
      { x: most, x2: most },
    ]);
    expect(linesOf(rows, FOREST_COLOURS.adjusted)).toMatchObject([{ x: least, x2: 0.5 }]);
    expect(pointsOf(rows, 'circle')).toEqual([5]);
    expect(pointsOf(rows, 'square')).toEqual([]);
    expect(arrowsOf(rows)).toEqual([
      [90, most],
      [90, most],
      [-90, least],
    ]);
  });

  it('draws a mark without a line where there is no interval, and hollow where it is penalised', () => {
    const rows = [row(odds(3, null, null, true), odds(null, null, null))];
    expect(pointsOf(rows, 'circle')).toEqual([]);
    expect(pointsOf(rows, 'circle', true)).toEqual([3]);
    expect(linesOf(rows, FOREST_COLOURS.unadjusted)).toMatchObject([{ x: 3, x2: 3 }]);
    expect(pointsOf(rows, 'square', true)).toEqual([]);
  });

  it('reaches from 0.5 to 2 at least', () => {
    const [low, high] = forestDomain([row(odds(1, 0.99, 1.01))]);
    expect(low).toBeLessThan(0.5);
    expect(high).toBeGreaterThan(2);
  });

  test.each([
    [
      [0.45, 2.2],
      [0.5, 1, 2],
    ],
    [
      [0.05, 20],
      [0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20],
    ],
    [
      [0.0005, 3000],
      [0.001, 0.01, 0.1, 1, 10, 100, 1000],
    ],
  ] as const)('labels an axis over %s', (domain, ticks) => expect(logTicks(domain)).toEqual(ticks));
});

describe('charts of odds ratios in a browser', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openChromium();
  });
  afterAll(() => browser?.close());

  const study = analysed({
    patients: 60,
    change: withGose((mean, i) => (mean > 17 !== (i % 5 === 0) ? 3 : 7)),
  });
  const [first] = study.features;
  const many = Array.from({ length: MOST_FOREST_ROWS + 5 }, (_, i) => ({
    ...study.features[i % 7],
    key: `${i}`,
  }));

  it.each([
    ['the usual features', study.features],
    ['one', [first]],
    ['as many as there is place for', many],
  ])(
    'have whole labels that stand apart, and are no wider or higher than a sheet: %s',
    async (_, features) => {
      expect(forestRows(features).length).toBeGreaterThan(0);
      const { forest } = await drawFeatures({ features }, renderSvg);
      const page = await browser.newPage({ viewport: { width: 1000, height: 1100 } });
      for (const font of ['Helvetica', 'DejaVu Sans']) {
        await page.setContent(`<style>svg, svg * { font-family: '${font}' !important }</style>${forest}`);
        expect(await page.evaluate(LABEL_FAULTS), font).toEqual([]);
      }
      const [, width, height] = /viewBox="0 0 (\d+) (\d+)/.exec(forest ?? '')!.map(Number);
      expect(width).toBeLessThanOrEqual(860);
      expect(height).toBeLessThanOrEqual(880);
      await page.close();
    },
  );
});

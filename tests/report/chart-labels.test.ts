import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Interval } from '../../src/recording/interval.js';
import { cleaningStripSpec, type StripRow } from '../../src/report/charts/cleaning-strip.js';
import { curveSpec } from '../../src/report/charts/curve-chart.js';
import { differenceSpec } from '../../src/report/charts/difference-chart.js';
import { episodeStripSpec } from '../../src/report/charts/episode-strip.js';
import { optimalCourseSpec } from '../../src/report/charts/optimal-course.js';
import { perfusionOverviewSpec } from '../../src/report/charts/perfusion-overview.js';
import { overviewSpec } from '../../src/report/charts/period-overview.js';
import { renderSvg } from '../../src/report/charts/render.js';
import type { MinuteCourse } from '../../src/summarize/perfusion/minute-course.js';
import { openChromium } from '../support/chromium.js';
import { busyBedside, drawnOver } from '../support/drawn.js';
import { LABEL_FAULTS as FAULTS } from '../support/label-faults.js';
import { curveOf } from '../support/perfusion.js';

const HOUR = 3_600_000;
const over = (start: string, hours: number): Interval => ({
  start: Date.parse(start),
  end: Date.parse(start) + hours * HOUR,
});

/** From plain windows to the nights in which the clocks of two zones change. */
const WINDOWS: [string, string, number, string][] = [
  ...(
    [
      ['10 min', 10 / 60],
      ['20 min', 20 / 60],
      ['1 h', 1],
      ['3 h', 3],
      ['12 h', 12],
      ['24 h', 24],
      ['48 h', 48],
      ['4 d', 96],
      ['14 d', 336],
    ] as const
  ).map(([name, hours]): [string, string, number, string] => [
    name,
    '2031-02-11T22:53:20Z',
    hours,
    'Europe/Oslo',
  ]),
  ['12 h to 07:00', '2031-02-11T18:00:00Z', 12, 'Europe/Oslo'],
  ['an instant', '2031-02-11T18:00:20Z', 0, 'UTC'],
  ['a zone with a long name', '2031-02-11T12:00:00Z', 12, 'America/Argentina/ComodRivadavia'],
  ...[3, 13, 24, 40].flatMap((hours): [string, string, number, string][] => [
    [`autumn in Oslo, ${hours} h`, '2031-10-25T22:30:00Z', hours, 'Europe/Oslo'],
    [`spring in Oslo, ${hours} h`, '2031-03-29T22:30:00Z', hours, 'Europe/Oslo'],
    [`autumn on Lord Howe, ${hours} h`, '2031-04-05T12:00:00Z', hours, 'Australia/Lord_Howe'],
    [`spring on Lord Howe, ${hours} h`, '2031-10-04T12:00:00Z', hours, 'Australia/Lord_Howe'],
  ]),
];

const ROWS: StripRow[] = [
  { name: 'ICP: brief spikes', bars: [] },
  { name: 'Drain: drain open', bars: [] },
];

/** An index that goes up and down, a value a minute. */
const courseOver = ({ start, end }: Interval): MinuteCourse => ({
  firstEnd: Math.ceil(start / 60_000) * 60_000,
  values: Float64Array.from({ length: Math.floor((end - start) / 60_000) + 1 }, (_, i) => Math.sin(i / 9)),
});

/** Every chart over time that a patient's page may hold. */
function chartsOver(window: Interval, zone: string) {
  const input = drawnOver(window, zone, {
    episodes: [{ start: window.start, end: window.end }],
    bedside: busyBedside(window),
  });
  const agreement = {
    means: [],
    meanDifferenceMmHg: 1,
    lowerLimitMmHg: -12,
    upperLimitMmHg: 14,
    zeroMoves: [],
  };
  return {
    overview: overviewSpec({ ...input, period: window }),
    strip: episodeStripSpec({ ...input, episode: window }),
    taken: cleaningStripSpec(ROWS, window, input.clock),
    difference: differenceSpec(agreement as never, window, input.clock),
    perfusion: perfusionOverviewSpec({
      ...input,
      period: window,
      cppTargets: [
        { ...window, end: (window.start + window.end) / 2, belowMmHg: 60 },
        { ...window, start: (window.start + window.end) / 2, belowMmHg: 65 },
      ],
      prx: { course: courseOver(window), hours: [{ ...window, mean: 0.3 }] },
      minuteIndex: null,
      rap: { course: courseOver(window), hours: [] },
      limit: 0.25,
      oxygen: input.signals.icp,
      oxygenBelowMmHg: 20,
      temperature: input.signals.icp,
      endTidalCo2: input.signals.map,
    }),
    optimal: optimalCourseSpec(input, courseOver(window), window),
  };
}

describe('labels of charts', () => {
  let browser: Browser;
  let page: Page;
  beforeAll(async () => {
    browser = await openChromium();
    page = await browser.newPage({ viewport: { width: 1000, height: 1500 } });
  });
  afterAll(() => browser?.close());

  it.each(WINDOWS)('are whole and apart: %s', async (_, start, hours, zone) => {
    const specs = Object.entries(chartsOver(over(start, hours), zone));
    const svgs = await Promise.all(specs.map(([name, spec]) => renderSvg(spec, name)));
    for (const font of ['Helvetica', 'DejaVu Sans']) {
      await page.setContent(
        `<style>svg, svg * { font-family: '${font}' !important }</style>${svgs.join('')}`,
      );
      expect(await page.evaluate(FAULTS), font).toEqual([]);
    }
  });

  it.each([51, 55, 75, 95, 99])('are whole and apart where optimal CPP is %i mmHg', async (optimum) => {
    const svg = await renderSvg(curveSpec(curveOf(optimum), 0.25), 'curve');
    expect(svg).toContain(`>investigational optimum, whole period: ${optimum} mmHg<`);
    for (const font of ['Helvetica', 'DejaVu Sans']) {
      await page.setContent(`<style>svg, svg * { font-family: '${font}' !important }</style>${svg}`);
      expect(await page.evaluate(FAULTS), font).toEqual([]);
    }
  });

  it('would be found where one stands on another or is cut', async () => {
    await page.setContent(
      '<svg width="50" height="30"><text x="5" y="15">one</text><text x="15" y="15">two</text><text x="40" y="15">three</text></svg>',
    );
    expect(await page.evaluate(FAULTS)).toEqual(['cut: three', 'one on two']);
  });

  it('have the same width of plot and drawing in all charts, so that times stand below each other', async () => {
    const { overview, strip, taken, difference, perfusion, optimal } = chartsOver(
      over('2031-02-11T18:00:00Z', 12),
      'Europe/Oslo',
    );
    const widths = await Promise.all(
      [overview, strip, taken, difference, perfusion, optimal].map(
        async (spec) => /viewBox="0 0 (\d+) /.exec(await renderSvg(spec, 'k'))?.[1],
      ),
    );
    expect(new Set(widths).size).toBe(1);
  });
});

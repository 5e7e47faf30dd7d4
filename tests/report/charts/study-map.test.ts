import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { renderSvg } from '../../../src/report/charts/render.js';
import { CORRELATION_STEPS, patientSteps, stepAt } from '../../../src/report/charts/study-colours.js';
import { type StudyMap, studyMapSpec } from '../../../src/report/charts/study-map.js';
import {
  CPP_INTENSITIES_MMHG,
  DURATIONS_MINUTES,
  ICP_INTENSITIES_MMHG,
} from '../../../src/summarize/study/intensity-grid.js';
import { openChromium } from '../../support/chromium.js';
import { LABEL_FAULTS } from '../../support/label-faults.js';
import { noise } from '../../support/noise.js';

const mapOf = (valueAt: (place: number) => number | null, more: Partial<StudyMap> = {}): StudyMap => ({
  channel: 'icp',
  side: 'above',
  intensitiesMmHg: ICP_INTENSITIES_MMHG,
  durationsMinutes: DURATIONS_MINUTES,
  values: Array.from({ length: 36 * 40 }, (_, place) => valueAt(place)),
  steps: CORRELATION_STEPS,
  hasSignLine: true,
  ...more,
});
const fillOf = (value: number): string => CORRELATION_STEPS[stepAt(CORRELATION_STEPS, value)].fill;
const channels = (colour: string): number[] =>
  [1, 3, 5].map((i) => Number.parseInt(colour.slice(i, i + 2), 16));

/** The colours of the boxes in a drawing. */
const fillsIn = (svg: string): string[] => [
  ...new Set([...svg.matchAll(/fill="(#[0-9a-f]{6})"/g)].map(([, fill]) => fill)),
];

describe('the colours of correlations', () => {
  it('are red to yellow below 0, blue above it, the paper between, and the darker the stronger', () => {
    for (const rho of [-1, -0.35, -0.2, -0.06]) {
      const [red, , blue] = channels(fillOf(rho));
      expect(red).toBeGreaterThan(blue);
    }
    for (const rho of [1, 0.35, 0.2, 0.06]) {
      const [red, , blue] = channels(fillOf(rho));
      expect(blue).toBeGreaterThan(red);
    }
    expect([-0.049, 0, 0.049].map(fillOf)).toEqual(['#ffffff', '#ffffff', '#ffffff']);
    const lightness = (rho: number): number => channels(fillOf(rho)).reduce((a, b) => a + b);
    for (const sign of [-1, 1]) {
      const steps = [0.02, 0.07, 0.15, 0.25, 0.35, 0.5].map((rho) => lightness(sign * rho));
      expect(steps).toEqual([...steps].sort((a, b) => b - a));
      expect(new Set(steps).size).toBe(6);
    }
  });

  it('change at the same strengths on both sides', () => {
    CORRELATION_STEPS.forEach((_, i) => {
      const rising = CORRELATION_STEPS[i + 1]?.from;
      const falling = CORRELATION_STEPS[CORRELATION_STEPS.length - 1 - i].from;
      if (rising !== undefined) expect(rising).toBe(-falling);
    });
  });

  it('are told from each other in grey: above 0 lines of another lightness stand over each, and below none', () => {
    // Lightness as a grey print has it: luma of ITU-R BT.601.
    const grey = (colour: string): number => {
      const [red, green, blue] = channels(colour);
      return (0.299 * red + 0.587 * green + 0.114 * blue) / 255;
    };
    for (const { from, fill, ruled } of CORRELATION_STEPS) {
      if (from < 0) expect(ruled).toBeUndefined();
      else expect(Math.abs(grey(ruled ?? fill) - grey(fill))).toBeGreaterThan(0.2);
    }
  });

  it('count patients by doubling from the fewest that a cell may have', () => {
    expect(patientSteps(10).map(({ from }) => from)).toEqual([10, 20, 40, 80, 160]);
    expect([9, 10, 19, 20, 500].map((n) => stepAt(patientSteps(10), n))).toEqual([-1, 0, 0, 1, 4]);
  });
});

describe('the drawing of a map', () => {
  it('has a box for each run of a row in one colour, and hatching over what is blank', async () => {
    const svg = await renderSvg(
      studyMapSpec(
        mapOf((place) => (place < 400 ? -0.35 : place < 800 ? 0.35 : null)),
        'large',
      ),
      'map',
    );
    const fills = fillsIn(svg);
    expect(fills).toContain(fillOf(-0.35));
    expect(fills).toContain(fillOf(0.35));
    expect(fills).not.toContain(fillOf(0.2));
    expect(svg).toContain('ICP above (mmHg)');
    expect(svg).toContain('lasting at least so long (min)');
    expect(svg).toContain('stroke="#a8a8a8"');
    // Twenty rows of colour and 16 that are blank: no box a cell.
    expect(svg.match(/<path/g)?.length).toBeLessThan(60);
  });

  it('rules the cells of a better outcome alone', async () => {
    const drawn = async (rho: number): Promise<string> =>
      renderSvg(
        studyMapSpec(
          mapOf(() => rho, { hasSignLine: false }),
          'small',
        ),
        'map',
      );
    const ruled = CORRELATION_STEPS.flatMap((step) => step.ruled ?? []);
    const ruledIn = (svg: string): string[] =>
      ruled.filter((colour) => svg.includes(`stroke="${colour}" stroke-width="0.7"`));
    for (const rho of [0.06, 0.15, 0.25, 0.35, 0.5]) {
      const { ruled: own } = CORRELATION_STEPS[stepAt(CORRELATION_STEPS, rho)];
      const svg = await drawn(rho);
      expect(ruledIn(svg)).toEqual([own]);
      // One line a row, over all of its columns.
      const [, d = ''] =
        new RegExp(`<path[^>]*stroke="${own}" stroke-width="0.7"[^>]*>`)
          .exec(svg)?.[0]
          .match(/ d="([^"]*)"/) ?? [];
      expect((d.match(/M/gi) ?? []).length).toBe(36);
    }
    expect(ruledIn(await drawn(-0.5))).toEqual([]);
    expect(ruledIn(await drawn(0))).toEqual([]);
  });

  it('has a dot for each stable cell alone', async () => {
    const dotted = Array.from({ length: 1440 }, (_, place) => place % 10 === 0);
    const count = async (more: Partial<StudyMap>): Promise<number> => {
      const svg = await renderSvg(
        studyMapSpec(
          mapOf(() => 0.2, { ...more, hasSignLine: false }),
          'large',
        ),
        'map',
      );
      const [, d = ''] = svg.match(/<path[^>]* d="([^"]*)"[^>]*stroke-linecap="round"/) ??
        svg.match(/<path[^>]*stroke-linecap="round"[^>]* d="([^"]*)"/) ?? ['', ''];
      return (d.match(/M/gi) ?? []).length;
    };
    expect(await count({ dotted })).toBe(144);
    expect(await count({})).toBe(0);
  });

  it('stays small where every cell differs from its neighbours', async () => {
    const next = noise(3);
    const values = Array.from({ length: 1640 }, () => 0.3 * next());
    const svg = await renderSvg(
      studyMapSpec(
        mapOf((place) => values[place], {
          channel: 'cpp',
          side: 'below',
          intensitiesMmHg: CPP_INTENSITIES_MMHG,
          values,
          dotted: values.map((rho) => Math.abs(rho) > 0.2),
        }),
        'large',
      ),
      'map',
    );
    expect(svg.length).toBeLessThan(250_000);
    expect(svg).toContain('CPP below (mmHg)');
  });
});

describe('labels of a map', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openChromium();
  });
  afterAll(() => browser.close());

  it('are whole and apart in both sizes, in two fonts', async () => {
    const page = await browser.newPage();
    for (const size of ['large', 'small'] as const) {
      for (const intensitiesMmHg of [ICP_INTENSITIES_MMHG, CPP_INTENSITIES_MMHG]) {
        const values = Array.from({ length: intensitiesMmHg.length * 40 }, (_, i) => (i % 7) / 10 - 0.3);
        const svg = await renderSvg(
          studyMapSpec(
            mapOf(() => 0, { intensitiesMmHg, values }),
            size,
          ),
          'map',
        );
        for (const font of ['Helvetica', 'DejaVu Sans']) {
          await page.setContent(`<style>svg, svg * { font-family: '${font}' !important }</style>${svg}`);
          expect(await page.evaluate(LABEL_FAULTS), `${size} ${font}`).toEqual([]);
        }
      }
    }
  });
});

import fc from 'fast-check';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ZoneClock } from '../../src/recording/zone.js';
import { cleaningStripSpec } from '../../src/report/charts/cleaning-strip.js';
import { shortPath } from '../../src/report/charts/path.js';
import { overviewSpec } from '../../src/report/charts/period-overview.js';
import { removalPictureSpec } from '../../src/report/charts/removal-picture.js';
import { renderSvg, vegaSvg } from '../../src/report/charts/render.js';
import type { Spec } from '../../src/report/charts/spec.js';
import { growthSpec } from '../bench/growth-chart.js';
import { openChromium } from '../support/chromium.js';
import { busyBedside, drawnOver } from '../support/drawn.js';
import { seconds } from '../support/shapes.js';
import { everySeconds, T0 } from '../support/signals.js';

/** The points of a path of straight lines, by subpath; a reading of SVG 1.1, section 8.3, of M, L and l alone. */
function pointsOf(d: string): [number, number][][] {
  const paths: [number, number][][] = [];
  for (const [, command, rest] of d.matchAll(/([MLl])([^MLlZ]*)/g)) {
    const numbers = [...rest.matchAll(/-?(?:\d+\.?\d*|\.\d+)(?:e-?\d+)?/g)].map(([text]) => Number(text));
    if (command === 'M') paths.push([]);
    const path = paths[paths.length - 1];
    for (let i = 0; i < numbers.length; i += 2) {
      const [x, y] = command === 'l' ? path[path.length - 1] : [0, 0];
      path.push([x + numbers[i], y + numbers[i + 1]]);
    }
  }
  return paths;
}

describe('a short path', () => {
  it('goes from point to point of the long one, each within 0.05 px along both axes', () => {
    const coordinate = fc
      .double({ min: -900, max: 900, noNaN: true })
      .map((x) => Math.round(x * 1000) / 1000);
    const subpath = fc.array(fc.tuple(coordinate, coordinate), { minLength: 1, maxLength: 60 });
    fc.assert(
      fc.property(fc.array(subpath, { minLength: 1, maxLength: 5 }), (subpaths) => {
        const d = subpaths.map((points) => `M${points.map(([x, y]) => `${x},${y}`).join('L')}`).join('');
        const short = pointsOf(shortPath(d));
        expect(short.length).toBe(subpaths.length);
        subpaths.forEach((points, i) => {
          // Points that are the same once rounded are said once; one in the middle of two may have become either.
          let at = [0];
          const isAt = (k: number, [x, y]: [number, number]): boolean =>
            Math.abs(short[i][k][0] - x) <= 0.05001 && Math.abs(short[i][k][1] - y) <= 0.05001;
          for (const point of points) {
            at = [...new Set(at.flatMap((k) => [k, k + 1]))].filter(
              (k) => k < short[i].length && isAt(k, point),
            );
            expect(at.length).toBeGreaterThan(0);
          }
          expect(short[i].length - Math.max(...at)).toBeLessThanOrEqual(2);
        });
      }),
    );
  });

  it('is written in few characters, and leaves what it does not know alone', () => {
    expect(shortPath('M18.597,136.971L18.651,44.2L18.687,77.229M20,1L20.5,0.5')).toBe(
      'M18.6 137l.1-92.8 0 33M20 1l.5-.5',
    );
    expect(shortPath('M0,0A5,5,0,1,1,10,0Z')).toBe('M0,0A5,5,0,1,1,10,0Z');
    expect(shortPath('M1,1L1.01,1.01')).toBe('M1 1l0 0');
  });
});

describe('a drawing in fewer characters', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openChromium();
  });
  afterAll(() => browser?.close());

  const rawIcp = everySeconds(
    1,
    Array.from({ length: 1200 }, (_, i) => 12 + (i % 17) + (i > 300 && i < 900 ? 30 : 0)),
  );
  const removal = { channel: 'icp', rule: 'briefSpike', grade: 'removed', ...seconds(300, 900) } as const;
  const night = { start: T0, end: T0 + 43_200_000 };
  const nights = drawnOver(night, 'Europe/Oslo', {
    episodes: [seconds(3600, 7200)],
    suspect: [seconds(9000, 9900)],
    nights: [seconds(7200, 36_000)],
    bedside: busyBedside(night),
  });
  const specs: [string, Spec][] = [
    [
      'a picture of a removal',
      removalPictureSpec({ removal, icp: rawIcp, rawIcp, marks: [removal], thresholdMmHg: 22 }),
    ],
    ['an overview with all that it may hold', overviewSpec({ ...nights, period: night })],
    ['a chart of benchmarks', growthSpec([1, 10, 100].map((n) => ({ n, by: 'patients', microseconds: n })))],
    [
      'a cleaning strip',
      cleaningStripSpec(
        [
          {
            name: 'ICP: brief spikes',
            bars: [
              { ...removal, kind: 'removed' },
              { ...seconds(1, 99), kind: 'suspect' },
            ],
          },
        ],
        { start: T0, end: T0 + 43_200_000 },
        new ZoneClock('Europe/Oslo'),
      ),
    ],
  ];

  it.each(specs)('shows the same in the same places: %s', async (_, spec) => {
    const page = await browser.newPage();
    const look = async (svg: string): Promise<{ what: string; box: number[] }[]> => {
      await page.setContent(`<body style="margin:0">${svg}</body>`);
      return (await page.evaluate(`[...document.querySelectorAll('path, line, text')].flatMap((mark) => {
        const { left, top, right, bottom } = mark.getBoundingClientRect();
        const { fill, stroke, strokeWidth, strokeDasharray, opacity, fontFamily, fontSize, display, textAnchor } = getComputedStyle(mark);
        if (display === 'none' || (fill === 'none' && stroke === 'none')) return [];
        const what = JSON.stringify([mark.tagName, mark.textContent, fill, stroke, strokeWidth, strokeDasharray, opacity, ...(mark.tagName === 'text' ? [fontFamily, fontSize, textAnchor] : [])]);
        return [{ what, box: [left, top, right, bottom] }];
      })`)) as { what: string; box: number[] }[];
    };
    const [long, short] = [await vegaSvg(spec), await renderSvg(spec, 'k')];
    const [before, after] = [await look(long), await look(short)];
    expect(before.length).toBeGreaterThan(5);
    expect(after.map(({ what }) => what)).toEqual(before.map(({ what }) => what));
    after.forEach(({ box }, i) => {
      box.forEach((edge, k) => {
        expect(Math.abs(edge - before[i].box[k])).toBeLessThan(0.06);
      });
    });
    expect(short.length).toBeLessThan(long.length * 0.7);
    await page.close();
  });

  it('draws each corner of a line within 0.05 px of where Vega puts it', async () => {
    const [, spec] = specs[0];
    const linesOf = (svg: string): [number, number][][] =>
      [...svg.matchAll(/ d="(M[^"AZ]*)"/g)]
        .flatMap(([, d]) => pointsOf(d))
        .filter(({ length }) => length > 20);
    const [long, short] = [linesOf(await vegaSvg(spec)), linesOf(await renderSvg(spec, 'k'))];
    expect(long.length).toBeGreaterThan(0);
    expect(short.length).toBe(long.length);
    const away = (a: number, b: number): number => Math.abs(a - b);
    long.forEach((points, i) => {
      for (const [x, y] of points) {
        const nearest = Math.min(...short[i].map((to) => Math.max(away(x, to[0]), away(y, to[1]))));
        expect(nearest).toBeLessThanOrEqual(0.05001);
      }
    });
  });
});

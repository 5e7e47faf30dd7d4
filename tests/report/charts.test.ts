import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { withoutIntervals } from '../../src/recording/signal.js';
import { ZoneClock } from '../../src/recording/zone.js';
import { minMaxLine } from '../../src/report/charts/reduce.js';
import { removalPictureSpec } from '../../src/report/charts/removal-picture.js';
import { removedLine } from '../../src/report/charts/removed-line.js';
import { renderSvg, rewriteIds } from '../../src/report/charts/render.js';
import { timeAxis } from '../../src/report/charts/time-axis.js';
import { everySeconds, T0 } from '../support/signals.js';

describe('a line reduced to pixels', () => {
  it('keeps the lowest and the highest sample of each pixel column, in time order', () => {
    const values = fc.array(fc.integer({ min: -5, max: 80 }), { minLength: 2, maxLength: 400 });
    fc.assert(
      fc.property(values, fc.integer({ min: 1, max: 60 }), (xs, columns) => {
        const signal = everySeconds(1, xs);
        const window = { start: T0, end: T0 + (xs.length - 1) * 1000 };
        const points = minMaxLine(signal, window, columns);
        // Points are rounded to a thousandth of a minute; the samples stand on whole seconds.
        const columnOf = (minutes: number): number =>
          Math.floor(((Math.round(minutes * 60) * 1000) / (window.end - window.start)) * columns);
        const extremes = (column: number, entries: { x: number; y: number }[]): [number, number] => {
          const ys = entries.filter(({ x }) => columnOf(x) === column).map(({ y }) => y);
          return [Math.min(...ys), Math.max(...ys)];
        };
        const all = xs.map((y, i) => ({ x: i / 60, y }));
        for (let column = 0; column < columns; column++) {
          if (!all.some(({ x }) => columnOf(x) === column)) continue;
          expect(extremes(column, [...points])).toEqual(extremes(column, all));
        }
        const order = points.map(({ x }) => x);
        expect(order).toEqual([...order].sort((a, b) => a - b));
        expect(points.length).toBeLessThanOrEqual(2 * (columns + 1) + 2);
      }),
    );
  });

  it('draws gaps as gaps: a run for each stretch that is known', () => {
    const signal = withoutIntervals(everySeconds(1, [1, 2, 3, 4, 5, 6, 7]), [
      { start: T0 + 3000, end: T0 + 3000 },
    ]);
    const points = minMaxLine(signal, { start: T0, end: T0 + 6000 }, 100);
    expect(points.map(({ y, run }) => [y, run])).toEqual([
      [1, 1],
      [2, 1],
      [3, 1],
      [5, 2],
      [6, 2],
      [7, 2],
    ]);
  });

  it('draws what was removed with one sample more at both ends', () => {
    const raw = everySeconds(1, [1, 2, 60, 4, 5]);
    const mark = {
      channel: 'icp',
      rule: 'briefSpike',
      grade: 'removed',
      start: T0 + 2000,
      end: T0 + 2000,
    } as const;
    const line = removedLine(raw, [mark], 'icp', { start: T0, end: T0 + 4000 }, 100);
    expect(line.map(({ y }) => y)).toEqual([2, 60, 4]);
    expect(removedLine(raw, [mark], 'map', { start: T0, end: T0 + 4000 }, 100)).toEqual([]);
  });
});

describe('the picture of a removal', () => {
  const draw = (values: number[], from: number, to: number): Promise<string> => {
    const rawIcp = everySeconds(1, values);
    const mark = {
      channel: 'icp',
      rule: 'briefSpike',
      grade: 'removed',
      start: T0 + from * 1000,
      end: T0 + to * 1000,
    } as const;
    const icp = withoutIntervals(rawIcp, [mark]);
    return renderSvg(
      removalPictureSpec({ removal: mark, icp, rawIcp, marks: [mark], thresholdMmHg: 22 }),
      'r',
    );
  };
  const labelsOf = (svg: string): string[] =>
    [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map(([, t]) => t);

  it('names its range by two numbers, tens that hold all samples and the threshold', async () => {
    const cough = Array.from({ length: 601 }, (_, i) => (i >= 300 && i < 310 ? 63 : 12));
    expect(labelsOf(await draw(cough, 300, 309))).toEqual(['10', '70']);
    const zeroing = Array.from({ length: 601 }, (_, i) => (i >= 300 && i < 400 ? -0.4 : 12));
    expect(labelsOf(await draw(zeroing, 300, 399))).toEqual(['−10', '30']);
  });

  it('cuts off what no transducer means', async () => {
    const values = Array.from({ length: 601 }, (_, i) => (i === 300 ? 3000 : 12));
    expect(labelsOf(await draw(values, 300, 300))).toEqual(['10', '160']);
  });

  it('has the same size whatever it shows, and stays small over hours', async () => {
    const long = Array.from({ length: 20_000 }, (_, i) => 12 + (i % 17) + (i > 2000 && i < 18_000 ? 30 : 0));
    const short = Array.from({ length: 601 }, () => 12);
    const [a, b] = [await draw(long, 2000, 18_000), await draw(short, 300, 302)];
    expect(/viewBox="[^"]+"/.exec(a)?.[0]).toBe(/viewBox="[^"]+"/.exec(b)?.[0]);
    expect(a.length).toBeLessThan(12_000);
  });
});

describe('a time axis', () => {
  const labelsOf = (start: string, end: string, zone: string): string[] => {
    const { ticks, labelExpression } = timeAxis(
      { start: Date.parse(start), end: Date.parse(end) },
      new ZoneClock(zone),
    );
    const labels = JSON.parse(/^\((.*)\)\[datum\.value\]$/.exec(labelExpression)?.[1] ?? '{}');
    return ticks.map((tick) => `${tick} ${labels[tick]}`);
  };

  it('labels hours of the clock on the wall, in zones off the whole hour too', () => {
    expect(labelsOf('2031-02-11T18:30:00Z', '2031-02-11T21:00:00Z', 'Asia/Kathmandu')).toEqual([
      '45 01:00',
      '105 02:00',
    ]);
  });

  it('shows a repeated hour twice and a skipped hour never', () => {
    expect(labelsOf('2031-10-25T23:00:00Z', '2031-10-26T03:00:00Z', 'Europe/Oslo')).toEqual([
      '0 01:00',
      '60 02:00',
      '120 02:00',
      '180 03:00',
      '240 04:00',
    ]);
    expect(labelsOf('2031-03-29T23:00:00Z', '2031-03-30T03:00:00Z', 'Europe/Oslo')).toEqual([
      '0 00:00',
      '60 01:00',
      '120 03:00',
      '180 04:00',
      '240 05:00',
    ]);
  });

  it('thins labels out over long periods', () => {
    for (const hours of [1, 12, 24, 36, 72, 14 * 24]) {
      const axis = timeAxis({ start: T0, end: T0 + hours * 3_600_000 }, new ZoneClock('UTC'));
      expect(axis.ticks.length).toBeLessThanOrEqual(14);
      expect(axis.ticks.length).toBeGreaterThan(0);
    }
  });
});

describe('a drawing', () => {
  it('has ids that belong to its page, and references that follow them', () => {
    const svg = '<g id="clip7"/><rect clip-path="url(#clip7)"/><use href="#clip7"/><a href="#other"/>';
    expect(rewriteIds(svg, 'night')).toBe(
      '<g id="night-1"/><rect clip-path="url(#night-1)"/><use href="#night-1"/><a href="#other"/>',
    );
  });

  it('is the same however many were drawn before', async () => {
    const spec = {
      width: 50,
      height: 20,
      data: {
        values: [
          { x: 0, y: 1 },
          { x: 9, y: 5 },
        ],
      },
      mark: { type: 'line', clip: true },
      encoding: { x: { field: 'x', type: 'quantitative' }, y: { field: 'y', type: 'quantitative' } },
    } as never;
    const first = await renderSvg(spec, 'a');
    await renderSvg(spec, 'b');
    expect(await renderSvg(spec, 'a')).toBe(first);
    expect(first).toMatch(/id="a-1"/);
  });

  it('shows hostile text as text', async () => {
    const spec = {
      data: { values: [{ t: '<script>x</script>"' }] },
      mark: 'text',
      encoding: { text: { field: 't', type: 'nominal' } },
    } as never;
    const svg = await renderSvg(spec, 'k');
    expect(svg).not.toContain('<script');
    expect(svg).toContain('&lt;script&gt;');
  });
});

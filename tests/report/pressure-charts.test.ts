import { describe, expect, it } from 'vitest';
import { emptySignal, withoutIntervals } from '../../src/recording/signal.js';
import { ZoneClock } from '../../src/recording/zone.js';
import { beyondRange } from '../../src/report/charts/beyond.js';
import { episodeStripSpec } from '../../src/report/charts/episode-strip.js';
import { episodeStripWindow } from '../../src/report/charts/episode-window.js';
import { type OverviewInput, overviewSpec } from '../../src/report/charts/period-overview.js';
import { minMaxLine } from '../../src/report/charts/reduce.js';
import { renderSvg } from '../../src/report/charts/render.js';
import { nightSpans, visibleSpans } from '../../src/report/charts/spans.js';
import { sparklineSpec } from '../../src/report/charts/sparkline.js';
import { parseSvg, type SvgElement } from '../../src/report/charts/svg-tree.js';
import { nightsIn } from '../../src/summarize/calendar.js';
import { drawnOver } from '../support/drawn.js';
import { seconds } from '../support/shapes.js';
import { everySeconds, T0 } from '../support/signals.js';

const NIGHT = seconds(0, 12 * 3600);
const COLOUR = { icp: '#d55e00', map: '#0072b2', cpp: '#009e73', removed: '#8c8c8c', ink: '#1a1a1a' };

const overview = (more: Partial<OverviewInput> = {}, window = NIGHT): Promise<string> =>
  renderSvg(overviewSpec({ ...drawnOver(window, 'Europe/Oslo'), period: window, ...more }), 'k');

/** Upright rectangles of a colour, their own or of their group, pixels from the corner of the plot. */
function barsOf(svg: string, colour: string): { left: number; top: number; wide: number }[] {
  const found: { left: number; top: number; wide: number }[] = [];
  const walk = ({ attributes, children }: SvgElement, inherited: string): void => {
    const fill = attributes.get('fill') ?? inherited;
    const corner = /^M(-?[\d.]+),(-?[\d.]+)h([\d.]+)v[\d.]+h-[\d.]+Z$/.exec(attributes.get('d') ?? '');
    if (corner && fill === colour) {
      const [left, top, wide] = corner.slice(1).map(Number);
      found.push({ left, top, wide });
    }
    for (const child of children) if (typeof child !== 'string') walk(child, fill);
  };
  walk(parseSvg(svg), '');
  return found;
}
const titlesOf = (svg: string): string[] => [...svg.matchAll(/>(\w+ \(mmHg\))</g)].map(([, title]) => title);

describe('the overview', () => {
  it('has panels of ICP, MAP and CPP, and of ICP alone without an arterial line', async () => {
    expect(titlesOf(await overview())).toEqual(['ICP (mmHg)', 'MAP (mmHg)', 'CPP (mmHg)']);
    const { icp } = drawnOver(NIGHT, 'UTC').signals;
    const alone = await overview({ signals: { icp, map: emptySignal, cpp: emptySignal } });
    expect(titlesOf(alone)).toEqual(['ICP (mmHg)']);
    expect(alone).toContain('local time, Europe/Oslo');
  });

  it('keeps the empty panel of a channel without data in the period, with its axes', async () => {
    const { icp, map } = drawnOver(NIGHT, 'UTC').signals;
    const away = { ...map, times: map.times.map((t) => t - 86_400_000) };
    const svg = await overview({ signals: { icp, map: away, cpp: emptySignal } });
    expect(titlesOf(svg)).toEqual(['ICP (mmHg)', 'MAP (mmHg)', 'CPP (mmHg)']);
    for (const label of ['60', '80', '100']) expect(svg).toContain(`>${label}</text>`);
    expect(svg).not.toContain(`stroke="${COLOUR.map}"`);
  });

  it('is drawn of one sample, and of a period of no length', async () => {
    const one = everySeconds(1, [14]);
    const signals = { icp: one, map: emptySignal, cpp: emptySignal };
    const svg = await overview({ signals, rawIcp: one }, { start: T0, end: T0 });
    expect(titlesOf(svg)).toEqual(['ICP (mmHg)']);
    expect(svg).not.toMatch(/NaN|Infinity|undefined/);
  });

  it('has the same size for a week of 40 episodes as for an hour of one, and stays small', async () => {
    const week = seconds(0, 14 * 86_400);
    const episodes = Array.from({ length: 40 }, (_, i) => seconds(i * 30_000, i * 30_000 + 600));
    const long = await overview({ ...drawnOver(week, 'Europe/Oslo'), episodes, period: week }, week);
    const short = await overview({ episodes: [seconds(600, 1200)] }, seconds(0, 3600));
    expect(/viewBox="[^"]+"/.exec(long)?.[0]).toBe(/viewBox="[^"]+"/.exec(short)?.[0]);
    expect(long.length).toBeLessThan(150_000);
  });

  it('shows each of 40 episodes of 10 min in a fortnight, at least two pixels wide', async () => {
    const fortnight = seconds(0, 14 * 86_400);
    const episodes = Array.from({ length: 40 }, (_, i) => seconds(i * 30_000, i * 30_000 + 600));
    const svg = await overview({ ...drawnOver(fortnight, 'UTC'), episodes, period: fortnight }, fortnight);
    const yellow = [...svg.matchAll(/<path d="M[\d.]+,0h([\d.]+)v170h[^"]*"/g)].map(([, wide]) =>
      Number(wide),
    );
    expect(yellow.length).toBe(40);
    for (const wide of yellow) expect(wide).toBeGreaterThanOrEqual(2);
  });

  it('marks at its edge what is beyond what it draws', async () => {
    const icp = everySeconds(
      60,
      Array.from({ length: 721 }, (_, i) => (i >= 300 && i < 360 ? 130 : i > 500 && i < 520 ? -40 : 14)),
    );
    const signals = { icp, map: emptySignal, cpp: emptySignal };
    const bars = barsOf(await overview({ signals, rawIcp: icp }), COLOUR.ink);
    expect(bars).toEqual([
      { left: expect.closeTo(324.1, 0), wide: expect.closeTo(65.7, 0), top: 0 },
      { left: expect.closeTo(542.2, 0), wide: expect.closeTo(20.9, 0), top: 168 },
    ]);
    expect(barsOf(await overview(), COLOUR.ink)).toEqual([]);
  });
});

describe('hours of the night', () => {
  const clock = new ZoneClock('UTC');
  const nights = nightsIn(seconds(-86_400, 3 * 86_400), { fromMinutes: 19 * 60, toMinutes: 7 * 60 }, clock);

  it('are those of the window, and none where it is all night', () => {
    // The window starts at 18:00.
    expect(nightSpans(nights, seconds(0, 86_400))).toEqual([{ from: 60, to: 780 }]);
    expect(nightSpans(nights, seconds(3600, 13 * 3600))).toEqual([]);
    expect(nightSpans(nights, seconds(5 * 3600, 8 * 3600))).toEqual([]);
    expect(nightSpans(nights, seconds(14 * 3600, 20 * 3600))).toEqual([]);
  });

  it('are shaded in every panel, behind all else', async () => {
    const day = seconds(0, 86_400);
    const svg = await overview({ ...drawnOver(day, 'UTC'), nights, period: day }, day);
    const shades = [
      ...svg.matchAll(/<path d="M32\.5,0h390v(\d+)h-390Z"[^>]*fill="#1a1a1a"[^>]*opacity="0.05"/g),
    ];
    expect(shades.map(([, height]) => height)).toEqual(['170', '90', '110']);
    expect(svg.indexOf('opacity="0.05"')).toBeLessThan(svg.indexOf(COLOUR.icp));
  });
});

describe('the strip of an episode', () => {
  const episode = seconds(3600, 5400);
  const strip = (more: Partial<OverviewInput> = {}, of = episode): Promise<string> =>
    renderSvg(episodeStripSpec({ ...drawnOver(NIGHT, 'Europe/Oslo'), ...more, episode: of }), 'k');

  it('covers 10 min before it and 20 min after it, also beyond the data', () => {
    expect(episodeStripWindow(episode)).toEqual(seconds(3000, 6600));
    expect(episodeStripWindow(seconds(0, 600))).toEqual(seconds(-600, 1800));
  });

  it('shows ICP, and CPP where it is known anywhere in it', async () => {
    expect(titlesOf(await strip())).toEqual(['ICP (mmHg)', 'CPP (mmHg)']);
    const { signals } = drawnOver(NIGHT, 'UTC');
    const unknown = { ...signals, cpp: withoutIntervals(signals.cpp, [seconds(2900, 6700)]) };
    expect(titlesOf(await strip({ signals: unknown }))).toEqual(['ICP (mmHg)']);
    const partly = { ...signals, cpp: withoutIntervals(signals.cpp, [seconds(2900, 6000)]) };
    expect(titlesOf(await strip({ signals: partly }))).toEqual(['ICP (mmHg)', 'CPP (mmHg)']);
  });

  it('has its band, what is suspect, and what was removed in grey', async () => {
    const mark = { channel: 'icp', rule: 'briefSpike', grade: 'removed', ...seconds(5400, 5700) } as const;
    const svg = await strip({ episodes: [episode], suspect: [seconds(3100, 3300)], marks: [mark] });
    // An hour is 780 px wide; the episode begins after 10 min and lasts 30.
    expect(svg).toMatch(/<path d="M130,0h390v110h-390Z"/);
    expect(svg).toContain('stroke="#cc79a7"');
    expect(svg).toContain(`stroke="${COLOUR.removed}" stroke-width="0.7"`);
    expect(await strip()).not.toContain('stroke="#cc79a7"');
  });

  it('leaves the time without data empty', async () => {
    const svg = await strip({}, seconds(0, 1800));
    const starts = [...svg.matchAll(/d="M(-?[\d.]+) [^"]*" stroke="#(?:d55e00|009e73)"/g)].map(([, x]) =>
      Number(x),
    );
    expect(starts).toEqual([130, 130]);
  });
});

describe('what lies beyond a range', () => {
  it('is told from crossing to crossing, at least three pixels wide', () => {
    // Up to 60 and back over 60 min: above 50 from minute 25 to 35.
    const line = minMaxLine(
      everySeconds(
        60,
        [...Array(61).keys()].map((i) => 60 - Math.abs(i - 30) * 2),
      ),
      seconds(0, 3600),
      600,
    );
    expect(beyondRange(line, [0, 50], 60, 600)).toEqual({
      above: [{ from: expect.closeTo(25, 9), to: expect.closeTo(35, 9) }],
      below: [],
    });
    const cough = minMaxLine(
      everySeconds(
        1,
        [...Array(3601).keys()].map((i) => (i === 1800 ? -30 : 12)),
      ),
      seconds(0, 3600),
      600,
    );
    const { above, below } = beyondRange(cough, [0, 50], 60, 600);
    expect(above).toEqual([]);
    expect(below.length).toBe(1);
    expect(below[0].to - below[0].from).toBeCloseTo(0.3, 6);
  });

  it('is nothing across a gap, and nothing on the edge itself', () => {
    const points = [
      { x: 0, y: 50, run: 1 },
      { x: 1, y: 50, run: 1 },
      { x: 5, y: 70, run: 2 },
    ];
    expect(beyondRange(points, [0, 50], 10, 100)).toEqual({ above: [], below: [] });
  });
});

describe('the strip in a row of the unit', () => {
  const draw = (values: readonly number[], removed: readonly [number, number][] = []): Promise<string> => {
    const rawIcp = everySeconds(60, values);
    const marks = removed.map(
      ([from, to]) =>
        ({ channel: 'icp', rule: 'briefSpike', grade: 'removed', ...seconds(from * 60, to * 60) }) as const,
    );
    const period = seconds(0, (values.length - 1) * 60);
    return renderSvg(
      sparklineSpec({ period, icp: withoutIntervals(rawIcp, marks), rawIcp, marks, thresholdMmHg: 22 }),
      'k',
    );
  };
  /** 171 min over 170 pixels. */
  const plain = Array.from({ length: 171 }, () => 12);

  it('marks the stretches that are cut off, at the upper and the lower edge', async () => {
    const svg = await draw(plain.map((x, i) => (i >= 40 && i <= 60 ? 90 : i >= 100 && i <= 110 ? -20 : x)));
    expect(barsOf(svg, COLOUR.ink)).toEqual([
      { left: expect.closeTo(39.5, 0), wide: expect.closeTo(21, 0), top: 0 },
      { left: expect.closeTo(99.4, 0), wide: expect.closeTo(11.2, 0), top: 28 },
    ]);
    expect(barsOf(await draw(plain), COLOUR.ink)).toEqual([]);
  });

  it('marks in grey what was removed, so that it is not taken for what was kept', async () => {
    const svg = await draw(
      plain.map((x, i) => (i >= 40 && i <= 60 ? 90 : x)),
      [[40, 60]],
    );
    expect(barsOf(svg, COLOUR.ink)).toEqual([]);
    expect(barsOf(svg, COLOUR.removed).length).toBe(1);
  });

  it('has one size, and is drawn of a single sample', async () => {
    const sizes = [
      await draw(plain),
      await draw([12]),
      await draw(plain.map((x, i) => (i > 80 ? 99 : x))),
    ].map((svg) => /viewBox="[^"]+"/.exec(svg)?.[0]);
    expect(sizes).toEqual(Array(3).fill('viewBox="0 0 172 32"'));
  });
});

describe('stretches in a chart', () => {
  it('are left out where they do not reach the window', () => {
    expect(visibleSpans([seconds(-500, -10), seconds(50_000, 60_000)], NIGHT, 720)).toEqual([]);
  });
});

import { describe, expect, it } from 'vitest';
import { areasAbove } from '../../../src/report/charts/areas.js';
import { cppBands } from '../../../src/report/charts/cpp-bands.js';
import { curveSpec, fittedIndex, rangeUnder } from '../../../src/report/charts/curve-chart.js';
import {
  courseSignal,
  knownPart,
  levelLine,
  minuteLine,
  whereKnown,
} from '../../../src/report/charts/minute-line.js';
import { perfusionOverviewSpec } from '../../../src/report/charts/perfusion-overview.js';
import { renderSvg } from '../../../src/report/charts/render.js';
import { thresholdSteps } from '../../../src/report/charts/threshold-steps.js';
import type { MinuteCourse } from '../../../src/summarize/perfusion/minute-course.js';
import { drawnOver } from '../../support/drawn.js';
import { curveOf } from '../../support/perfusion.js';
import { seconds } from '../../support/shapes.js';
import { everySeconds, T0 } from '../../support/signals.js';
import { ADULT } from '../../support/targets.js';

const MINUTE = 60_000;
const course = (...values: number[]): MinuteCourse => ({
  firstEnd: T0 + MINUTE,
  values: Float64Array.from(values),
});

describe('a course of minutes as a line', () => {
  it('goes through the stamps, and is open where a minute is unknown', () => {
    const line = minuteLine(course(0.1, 0.2, Number.NaN, 0.4, 0.5), seconds(0, 600), 600);
    expect(line.map(({ x, y }) => [x, y])).toEqual([
      [1, 0.1],
      [2, 0.2],
      [4, 0.4],
      [5, 0.5],
    ]);
    expect(line[1].run).not.toBe(line[2].run);
  });

  it('shows a minute that stands alone as long as it is', () => {
    const { times, known } = courseSignal(course(Number.NaN, 0.3, Number.NaN));
    expect([...times]).toEqual([T0 + MINUTE + 1, T0 + 2 * MINUTE]);
    expect([...known]).toEqual([1, 0]);
  });

  it('is left out where another signal is not known', () => {
    const { times, values } = everySeconds(60, [70, 71, 72, 73, 74]);
    const gap = { times, values, known: Uint8Array.from([1, 0, 0, 1, 0]) };
    // Known from 0 to 1 and from 3 to 4 min: at 2 min neither side is.
    expect([...whereKnown(course(0.1, 0.2, 0.3, 0.4, 0.5), gap).values]).toEqual([
      ...[0.1, Number.NaN, 0.3],
      ...[0.4, Number.NaN],
    ]);
  });

  it('is nothing where nothing is known', () => {
    expect(minuteLine(course(Number.NaN), seconds(0, 600), 600)).toEqual([]);
    expect(minuteLine(course(), seconds(0, 600), 600)).toEqual([]);
  });

  it('draws a mean no further than its minutes are known', () => {
    const unknown = Number.NaN;
    const half = course(...[unknown, unknown, 0.5, unknown, 0.7, unknown]);
    expect(knownPart(half, seconds(0, 360))).toEqual(seconds(120, 300));
    expect(knownPart(half, seconds(180, 240))).toBeNull();
    expect(knownPart(half, seconds(600, 900))).toBeNull();
    expect(knownPart(course(0.1, 0.2, 0.3), seconds(60, 180))).toEqual(seconds(60, 180));
  });

  it('joins means of neighbouring hours as stairs, and leaves an hour without one open', () => {
    const hour = (i: number, mean: number | null) => ({ ...seconds(i * 3600, (i + 1) * 3600), mean });
    const line = levelLine([hour(0, 0.1), hour(1, 0.2), hour(2, null), hour(3, 0.4)], seconds(0, 4 * 3600));
    expect(line.map(({ x, y, run }) => [x, y, run])).toEqual([
      ...[
        [0, 0.1, 1],
        [60, 0.1, 1],
        [60, 0.2, 1],
        [120, 0.2, 1],
      ],
      ...[
        [180, 0.4, 2],
        [240, 0.4, 2],
      ],
    ]);
  });
});

describe('what lies above a limit', () => {
  const point = (x: number, y: number, run = 1) => ({ x, y, run });
  /** The area between the edge and the limit, gaps left out. */
  const areaOf = (points: ReturnType<typeof areasAbove>): number =>
    points.slice(1).reduce((sum, b, i) => {
      const a = points[i];
      return a.y === null || b.y === null ? sum : sum + ((a.y - a.y2 + b.y - b.y2) / 2) * (b.x - a.x);
    }, 0);

  it('is cut where the line crosses it', () => {
    expect(areasAbove([point(0, 0), point(2, 1), point(4, 0)], 0.5)).toEqual([
      { x: 1, y: 0.5, y2: 0.5 },
      { x: 2, y: 1, y2: 0.5 },
      { x: 3, y: 0.5, y2: 0.5 },
    ]);
  });

  it('has the area of the line above it, over several hills and across gaps', () => {
    const hills = [point(0, 1), point(1, 0), point(2, 1), point(3, 1), point(4, 1, 2), point(5, 0, 2)];
    // 0.125 down to the first crossing, 0.125 up to 2, 0.5 to 3, nothing across the gap, 0.125 down again.
    expect(areaOf(areasAbove(hills, 0.5))).toBeCloseTo(0.875, 12);
  });

  it('is nothing where the line touches the limit or stays under it', () => {
    expect(areasAbove([point(0, 0.5), point(1, 0.5), point(2, 0)], 0.5)).toEqual([]);
  });
});

describe('the bands of CPP', () => {
  it('are shaded the more, the lower they are, up to the floor; the target has the colour of CPP', () => {
    const bands = cppBands(ADULT);
    expect(bands.map(({ from, to }) => [from, to])).toEqual([
      [Number.NEGATIVE_INFINITY, 50],
      [50, 60],
      [60, 70],
    ]);
    expect(bands[0].opacity).toBeGreaterThan(bands[1].opacity);
    expect(bands[0].colour).toBe(bands[1].colour);
    expect(bands[2].colour).not.toBe(bands[1].colour);
  });
});

describe('the curve of PRx by CPP', () => {
  it('is drawn as it was fitted: lowest at the optimum, at the limit on both ends of the range under it', () => {
    const curve = curveOf(75);
    const fit = curve.fit!;
    const range = rangeUnder(curve, 0.25)!;
    expect(fittedIndex(fit, range.from)).toBeCloseTo(0.25, 12);
    expect(fittedIndex(fit, range.to)).toBeCloseTo(0.25, 12);
    for (const mmHg of [50, 70, 80, 100])
      expect(fittedIndex(fit, mmHg)).toBeGreaterThan(fittedIndex(fit, fit.optimalMmHg));
  });

  it('is under the limit up to the outer bins where it does not come back', () => {
    expect(rangeUnder(curveOf(55), 0.25)?.from).toBe(50);
    expect(rangeUnder({ ...curveOf(75), fit: null }, 0.25)).toBeNull();
    expect(rangeUnder(curveOf(75), -0.3)).toBeNull();
  });

  it('has points of the area of their minutes, on one axis, and no curve where none was fitted', async () => {
    const drawn = await renderSvg(curveSpec({ ...curveOf(75), fit: null }, 0.25), 'k');
    expect(drawn).not.toContain('optimum');
    expect(drawn).toContain('CPP (mmHg)');
    expect(drawn).not.toContain('>minutes<');
    expect(await renderSvg(curveSpec(curveOf(75), 0.25), 'k')).toContain(
      'investigational optimum, whole period: 75 mmHg',
    );
  });
});

describe('the points of the curve', () => {
  it('name no optimum where the curve is nowhere under the limit', async () => {
    const drawn = await renderSvg(curveSpec(curveOf(75), -0.5), 'k');
    expect(drawn).not.toContain('optimum');
    expect(await renderSvg(curveSpec(curveOf(75), 0.25, false), 'k')).not.toContain('optimum');
  });
});

describe('a target that changes', () => {
  const NIGHT = seconds(0, 12 * 3600);
  const target = (from: number, to: number, belowMmHg: number) => ({ ...seconds(from, to), belowMmHg });

  it('is a line in steps, cut to the window', () => {
    expect(thresholdSteps([target(-3600, 7200, 60), target(7200, 99_999, 65)], NIGHT)).toEqual([
      { from: 0, to: 120, y: 60 },
      { from: 120, to: 720, y: 65 },
    ]);
    expect(thresholdSteps([target(-3600, 0, 60)], NIGHT)).toEqual([]);
  });
});

describe('the picture of perfusion', () => {
  const NIGHT = seconds(0, 12 * 3600);
  const draw = (more: object): Promise<string> =>
    renderSvg(
      perfusionOverviewSpec({
        ...drawnOver(NIGHT, 'Europe/Oslo'),
        period: NIGHT,
        cppTargets: [],
        ...{ prx: null, minuteIndex: null, rap: null, limit: 0.25 },
        ...{ oxygen: null, oxygenBelowMmHg: 20, temperature: null, endTidalCo2: null },
        ...more,
      }),
      'k',
    );
  const titles = ['ICP (mmHg)', 'MAP (mmHg)', 'CPP (mmHg)', 'PRx', 'minute index', 'RAP', 'PbtO2 (mmHg)'];
  const shown = async (more: object): Promise<string[]> => {
    const svg = await draw(more);
    return titles.filter((title) => svg.includes(`>${title}<`));
  };

  it('has a panel for each thing that is there, and for no other', async () => {
    const index = { course: course(0.1, 0.4, 0.2), hours: [] };
    const { icp } = drawnOver(NIGHT, 'UTC').signals;
    expect(await shown({})).toEqual(titles.slice(0, 3));
    expect(await shown({ prx: index, rap: index, oxygen: icp })).toEqual([
      ...titles.slice(0, 4),
      ...['RAP', 'PbtO2 (mmHg)'],
    ]);
    expect(await shown({ minuteIndex: index })).toEqual([...titles.slice(0, 3), 'minute index']);
  });

  it('draws the dashed line of CPP in steps where its target changes', async () => {
    const dashes = (svg: string): number => svg.split('stroke-dasharray="4,3"').length - 1;
    const target = (from: number, to: number, belowMmHg: number) => ({ ...seconds(from, to), belowMmHg });
    const plain = await draw({});
    const stepped = await draw({ cppTargets: [target(0, 7200, 60), target(7200, 43_200, 72)] });
    expect(dashes(stepped)).toBeGreaterThanOrEqual(dashes(plain));
    expect(stepped).toContain('>72<');
    expect(plain).not.toContain('>72<');
  });

  it('fills PRx above its limit, and the minute index, which has none, never', async () => {
    const index = { course: course(0.1, 0.9, 0.1), hours: [] };
    const filled = (svg: string): number => svg.split('fill="#e69f00"').length - 1;
    const bands = filled(await draw({}));
    expect(bands).toBeGreaterThan(0);
    expect(filled(await draw({ prx: index }))).toBe(bands + 1);
    expect(filled(await draw({ minuteIndex: index }))).toBe(bands);
  });
});

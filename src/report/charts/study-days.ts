import type { SpreadResult, StudyDaysResult } from '../results-study-cohort.js';
import { layerOf } from './layers.js';
import { COLOURS } from './palette.js';
import type { Spec } from './spec.js';
import { SIDE_COLOURS, SIDES, type Side } from './study-sides.js';

const WIDTH = 344;
const HEIGHT = 120;
const PADDING = { left: 84, right: 12, top: 10 } as const;
/** Between the plot and the rows of numbers, for the labels and the title of its axis. */
const AXIS_PIXELS = 42;
const ROW = 15;
/** Days that a plot holds at least, so that two of them do not look like a week. */
const LEAST_DAYS = 5;
/** How far the two groups stand beside the day, days. */
const BESIDE = 0.14;
/** A lower end that is nearer to 0 than this share of the upper one takes the axis to 0. */
const NEAR_ZERO = 0.4;

type Feature = StudyDaysResult['features'][number];
type Point = { readonly x: number; readonly y: number; readonly low: number; readonly high: number };

const at = (day: number, side: Side): number => day + (side === 'favourable' ? -BESIDE : BESIDE);

function pointsOf({ days }: Feature, side: Side): Point[] {
  return days.flatMap(({ day, [side]: spread }) => {
    const { median, lowerQuartile, upperQuartile } = spread as SpreadResult;
    return median === null || lowerQuartile === null || upperQuartile === null
      ? []
      : [{ x: at(day, side), y: median, low: lowerQuartile, high: upperQuartile }];
  });
}

/** From the lowest quartile to the highest with some air, from 0 where it is near. */
function domainOfDays(points: readonly Point[]): [number, number] {
  const low = Math.min(...points.map((point) => point.low));
  const high = Math.max(...points.map((point) => point.high));
  const air = (high - low || Math.abs(high) || 1) * 0.08;
  const isNearZero = low >= 0 && low <= NEAR_ZERO * high;
  return [isNearZero || (low === 0 && high === 0) ? 0 : low - air, high + air];
}

const numbersLayer = (side: Side, row: number, { days }: Feature): Spec[] => [
  ...layerOf(
    days.map(({ day, [side]: spread }) => ({ x: day, y: row + 0.5, says: String(spread.known) })),
    {
      mark: { type: 'text', baseline: 'middle', fontSize: 11, color: COLOURS.ink },
      encoding: { text: { field: 'says', type: 'nominal' } },
    },
  ),
  ...layerOf([{ y: row + 0.5, says: side }], {
    mark: { type: 'text', align: 'left', baseline: 'middle', fontSize: 11, color: COLOURS.note },
    encoding: { x: { value: 6 - PADDING.left }, text: { field: 'says', type: 'nominal' } },
  }),
];

/**
 * Median and quartiles of a feature on each day since injury by outcome, and below it how many patients each day rests on.
 *
 * @param feature known on a day at least
 * @param axisTitle its unit
 * @param isShare the axis is in per cent
 */
export function studyDaysSpec(feature: Feature, axisTitle: string, isShare: boolean): Spec {
  const last = Math.max(LEAST_DAYS, ...feature.days.map(({ day }) => day));
  const points = {
    favourable: pointsOf(feature, 'favourable'),
    unfavourable: pointsOf(feature, 'unfavourable'),
  };
  const x = (axis: object | null): Spec => ({
    field: 'x',
    type: 'quantitative',
    scale: { domain: [0.5, last + 0.5], nice: false },
    title: axis === null ? null : 'day since injury',
    axis,
  });
  const plot: Spec = {
    width: WIDTH,
    height: HEIGHT,
    encoding: {
      x: x({
        values: Array.from({ length: last }, (_, i) => i + 1),
        format: 'd',
        grid: false,
        labelOverlap: false,
      }),
      y: {
        field: 'y',
        type: 'quantitative',
        scale: {
          domain: domainOfDays([...points.favourable, ...points.unfavourable]),
          nice: false,
          zero: false,
        },
        title: axisTitle,
        axis: {
          tickCount: 4,
          titleX: -46,
          ...(isShare ? { labelExpr: "format(datum.value * 100, '~g') + ' %'" } : {}),
        },
      },
    },
    layer: SIDES.flatMap((side) => [
      ...layerOf(points[side], {
        mark: { type: 'rule', color: SIDE_COLOURS[side], strokeWidth: 1.8 },
        encoding: { y: { field: 'low', type: 'quantitative' }, y2: { field: 'high' } },
      }),
      ...layerOf(points[side], {
        mark: {
          type: 'point',
          shape: side === 'favourable' ? 'circle' : 'square',
          filled: true,
          opacity: 1,
          size: 80,
          fill: SIDE_COLOURS[side],
        },
      }),
    ]),
  };
  const numbers: Spec = {
    width: WIDTH,
    height: ROW * SIDES.length,
    encoding: {
      x: x(null),
      y: {
        field: 'y',
        type: 'quantitative',
        scale: { domain: [SIDES.length, 0], nice: false },
        axis: null,
      },
    },
    layer: SIDES.flatMap((side, row) => numbersLayer(side, row, feature)),
  };
  return {
    vconcat: [plot, numbers],
    spacing: AXIS_PIXELS,
    bounds: 'flush',
    autosize: { type: 'none' },
    padding: { ...PADDING, bottom: HEIGHT + AXIS_PIXELS + ROW * SIDES.length + 4 },
  };
}

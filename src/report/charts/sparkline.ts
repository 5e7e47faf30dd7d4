import type { Mark } from '../../clean/rule.js';
import type { Interval } from '../../recording/interval.js';
import type { Signal } from '../../recording/signal.js';
import { beyondLayer, beyondRange } from './beyond.js';
import { lineLayer } from './layers.js';
import { COLOURS } from './palette.js';
import { type LinePoint, minMaxLine } from './reduce.js';
import { removedLine } from './removed-line.js';
import type { Spec } from './spec.js';

const WIDTH = 170;
const HEIGHT = 30;
/** The same scale in each row, so that rows can be compared; what lies beyond is cut off, with a thick line at the edge. */
export const SPARKLINE_MMHG = [0, 50] as const;

/** Likewise of CPP. */
export const CPP_STRIP_MMHG = [30, 110] as const;

/** What a strip shows. */
export interface SparklineInput {
  readonly period: Interval;
  readonly icp: Signal;
  readonly rawIcp: Signal;
  readonly marks: readonly Mark[];
  readonly thresholdMmHg: number;
}

/** What is drawn on a strip. */
interface Strip {
  readonly period: Interval;
  readonly kept: readonly LinePoint[];
  readonly removed: readonly LinePoint[];
  readonly colour: string;
  readonly range: readonly [number, number];
  readonly limit: number;
}

/** A strip of ICP over the period for a row of the unit table: threshold dashed, what was left out in grey. */
export const sparklineSpec = ({ period, icp, rawIcp, marks, thresholdMmHg }: SparklineInput): Spec =>
  stripSpec({
    period,
    kept: minMaxLine(icp, period, WIDTH),
    removed: removedLine(rawIcp, marks, 'icp', period, WIDTH),
    colour: COLOURS.icp,
    range: SPARKLINE_MMHG,
    limit: thresholdMmHg,
  });

/** A strip of CPP over the period: floor dashed. */
export const cppStripSpec = (period: Interval, cpp: Signal, floorMmHg: number): Spec =>
  stripSpec({
    period,
    kept: minMaxLine(cpp, period, WIDTH),
    removed: [],
    colour: COLOURS.cpp,
    range: CPP_STRIP_MMHG,
    limit: floorMmHg,
  });

function stripSpec({ period, kept, removed, colour, range, limit }: Strip): Spec {
  const endMinutes = Math.max(1, (period.end - period.start) / 60_000);
  const encoding = {
    x: { field: 'x', type: 'quantitative', axis: null, scale: { domain: [0, endMinutes], nice: false } },
    y: { field: 'y', type: 'quantitative', axis: null, scale: { domain: [...range], nice: false } },
  };
  const clamp = (y: number): number => Math.min(range[1], Math.max(range[0], y));
  const clamped = (points: readonly LinePoint[]): LinePoint[] =>
    points.map(({ x, y, run }) => ({ x, y: clamp(y), run }));
  const cut = (points: readonly LinePoint[], color: string): Spec[] =>
    beyondLayer(beyondRange(points, range, endMinutes, WIDTH), range, HEIGHT, color);
  return {
    width: WIDTH,
    height: HEIGHT,
    autosize: { type: 'none' },
    padding: 1,
    background: 'transparent',
    encoding,
    layer: [
      {
        data: { values: [{ y: limit }] },
        mark: { type: 'rule', strokeDash: [3, 2], color: COLOURS.ink, strokeWidth: 0.7 },
        encoding: { x: { value: 0 }, x2: { value: WIDTH } },
      },
      ...lineLayer(clamped(removed), COLOURS.removed, 0.7),
      ...lineLayer(clamped(kept), colour, 0.9),
      ...cut(removed, COLOURS.removed),
      ...cut(kept, COLOURS.ink),
    ],
  };
}

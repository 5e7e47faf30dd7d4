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

/** What a strip shows. */
export interface SparklineInput {
  readonly period: Interval;
  readonly icp: Signal;
  readonly rawIcp: Signal;
  readonly marks: readonly Mark[];
  readonly thresholdMmHg: number;
}

/** A strip of ICP over the period for a row of the unit table: threshold dashed, what was left out in grey. */
export function sparklineSpec(input: SparklineInput): Spec {
  const { period, icp, rawIcp, marks, thresholdMmHg } = input;
  const endMinutes = Math.max(1, (period.end - period.start) / 60_000);
  const encoding = {
    x: { field: 'x', type: 'quantitative', axis: null, scale: { domain: [0, endMinutes], nice: false } },
    y: { field: 'y', type: 'quantitative', axis: null, scale: { domain: [...SPARKLINE_MMHG], nice: false } },
  };
  const clamp = (y: number): number => Math.min(SPARKLINE_MMHG[1], Math.max(SPARKLINE_MMHG[0], y));
  const clamped = (points: readonly LinePoint[]): LinePoint[] =>
    points.map(({ x, y, run }) => ({ x, y: clamp(y), run }));
  const cut = (points: readonly LinePoint[], color: string): Spec[] =>
    beyondLayer(beyondRange(points, SPARKLINE_MMHG, endMinutes, WIDTH), SPARKLINE_MMHG, HEIGHT, color);
  const kept = minMaxLine(icp, period, WIDTH);
  const removed = removedLine(rawIcp, marks, 'icp', period, WIDTH);
  return {
    width: WIDTH,
    height: HEIGHT,
    autosize: { type: 'none' },
    padding: 1,
    background: 'transparent',
    encoding,
    layer: [
      {
        data: { values: [{ y: thresholdMmHg }] },
        mark: { type: 'rule', strokeDash: [3, 2], color: COLOURS.ink, strokeWidth: 0.7 },
        encoding: { x: { value: 0 }, x2: { value: WIDTH } },
      },
      ...lineLayer(clamped(removed), COLOURS.removed, 0.7),
      ...lineLayer(clamped(kept), COLOURS.icp, 0.9),
      ...cut(removed, COLOURS.removed),
      ...cut(kept, COLOURS.ink),
    ],
  };
}

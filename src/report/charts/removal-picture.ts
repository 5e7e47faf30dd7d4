import { HIGHEST_ICP_MMHG, LOWEST_ICP_MMHG } from '../../clean/measuring-range.js';
import type { Mark } from '../../clean/rule.js';
import type { Interval } from '../../recording/interval.js';
import { firstAfter, firstAtOrAfter } from '../../recording/search.js';
import type { Signal } from '../../recording/signal.js';
import { layerOf, lineLayer } from './layers.js';
import { COLOURS } from './palette.js';
import { type LinePoint, minMaxLine } from './reduce.js';
import { removedLine } from './removed-line.js';
import type { Spec } from './spec.js';

const WIDTH = 150;
const HEIGHT = 36;
/** What stands around a removal; around a long one more, so that it can be seen. */
const AROUND_MS = 120_000;
const AROUND_SHARE = 0.1;

/** What the picture of one removal shows. */
export interface RemovalPictureInput {
  readonly removal: Interval;
  readonly icp: Signal;
  readonly rawIcp: Signal;
  readonly marks: readonly Mark[];
  readonly thresholdMmHg: number;
}

/** Tens of mmHg that hold the samples and the threshold; what no transducer means is cut off. */
function rangeOf(
  { times, values }: Signal,
  { start, end }: Interval,
  thresholdMmHg: number,
): [number, number] {
  const samples = values.subarray(firstAtOrAfter(times, start), firstAfter(times, end));
  const within = (x: number): number => Math.min(HIGHEST_ICP_MMHG, Math.max(LOWEST_ICP_MMHG, x));
  const low = samples.reduce((a, b) => Math.min(a, within(b)), thresholdMmHg);
  const high = samples.reduce((a, b) => Math.max(a, within(b)), thresholdMmHg);
  return [Math.floor(low / 10) * 10, Math.floor(high / 10) * 10 + 10];
}

/** One removal with what stands around it: kept in the colour of ICP, removed in grey on a band, threshold dashed. */
export function removalPictureSpec(input: RemovalPictureInput): Spec {
  const { removal, icp, rawIcp, marks, thresholdMmHg } = input;
  const around = Math.max(AROUND_MS, (removal.end - removal.start) * AROUND_SHARE);
  const window = { start: removal.start - around, end: removal.end + around };
  const [low, high] = rangeOf(rawIcp, window, thresholdMmHg);
  const minutes = (at: number): number => (at - window.start) / 60_000;
  const within = (points: readonly LinePoint[]): LinePoint[] =>
    points.map(({ x, y, run }) => ({ x, y: Math.min(high, Math.max(low, y)), run }));
  return {
    width: WIDTH,
    height: HEIGHT,
    autosize: { type: 'none' },
    padding: { left: 22, right: 2, top: 5, bottom: 5 },
    background: 'transparent',
    encoding: {
      x: {
        field: 'x',
        type: 'quantitative',
        axis: null,
        scale: { domain: [0, minutes(window.end)], nice: false },
      },
      y: {
        field: 'y',
        type: 'quantitative',
        title: null,
        scale: { domain: [low, high], nice: false },
        axis: {
          values: [low, high],
          grid: false,
          ticks: false,
          domain: false,
          labelFontSize: 9,
          labelPadding: 3,
        },
      },
    },
    layer: [
      ...layerOf([{ x: minutes(removal.start), x2: minutes(removal.end), y: low, y2: high }], {
        mark: { type: 'rect', color: COLOURS.grid, opacity: 0.6 },
        encoding: { x2: { field: 'x2' }, y2: { field: 'y2' } },
      }),
      ...layerOf([{ y: thresholdMmHg }], {
        mark: { type: 'rule', strokeDash: [3, 2], color: COLOURS.ink, strokeWidth: 0.7 },
        encoding: { x: { value: 0 }, x2: { value: WIDTH } },
      }),
      ...lineLayer(within(removedLine(rawIcp, marks, 'icp', window, WIDTH)), COLOURS.removed, 1),
      ...lineLayer(within(minMaxLine(icp, window, WIDTH)), COLOURS.icp, 1),
    ],
  };
}

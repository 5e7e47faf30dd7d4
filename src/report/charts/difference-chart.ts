import type { Interval } from '../../recording/interval.js';
import type { ZoneClock } from '../../recording/zone.js';
import type { Agreement } from '../../summarize/agreement.js';
import {
  layerOf,
  lineLayer,
  midnightLayer,
  nightLayer,
  PERIOD_PADDING,
  PERIOD_WIDTH,
  timeChannel,
} from './layers.js';
import { COLOURS } from './palette.js';
import { minMaxLine } from './reduce.js';
import { nightSpans } from './spans.js';
import type { Spec } from './spec.js';
import { timeAxis } from './time-axis.js';

const HEIGHT = 110;
const MINUTE_MS = 60_000;

/** The means as a signal, each in the middle of its minute; broken where a minute is missing. */
function meansSignal({ means }: Agreement): Parameters<typeof minMaxLine>[0] {
  return {
    times: Float64Array.from(means, ({ start }) => start + MINUTE_MS / 2),
    values: Float64Array.from(means, ({ mean }) => mean),
    known: Uint8Array.from(means, ({ start }, i) => (means[i + 1]?.start === start + MINUTE_MS ? 1 : 0)),
  };
}

/** The difference of two sources over a period: 1-min means, mean and limits, and where a zero may have moved. */
export function differenceSpec(
  agreement: Agreement,
  period: Interval,
  clock: ZoneClock,
  nights: readonly Interval[] = [],
): Spec {
  const { means, meanDifferenceMmHg, lowerLimitMmHg, upperLimitMmHg, zeroMoves } = agreement;
  const axis = timeAxis(period, clock, PERIOD_WIDTH);
  const shown = [0, lowerLimitMmHg, upperLimitMmHg, ...means.map(({ mean }) => mean)];
  const low = Math.floor(shown.reduce((a, b) => Math.min(a, b)) / 5) * 5;
  const high = Math.ceil(shown.reduce((a, b) => Math.max(a, b)) / 5) * 5;
  const minutes = (at: number): number => (at - period.start) / MINUTE_MS;
  const across = { x: { value: 0 }, x2: { value: PERIOD_WIDTH } };
  const lines = [
    { y: upperLimitMmHg, dash: [4, 3] },
    { y: meanDifferenceMmHg, dash: [1, 0] },
    { y: lowerLimitMmHg, dash: [4, 3] },
  ];
  return {
    width: PERIOD_WIDTH,
    height: HEIGHT,
    autosize: { type: 'none' },
    padding: { ...PERIOD_PADDING, top: 8, bottom: axis.height },
    encoding: {
      x: timeChannel(axis, true),
      y: {
        field: 'y',
        type: 'quantitative',
        scale: { domain: [low, high], nice: false, zero: false },
        title: 'difference (mmHg)',
        axis: { tickCount: 4, titleX: -34 },
      },
    },
    layer: [
      ...nightLayer(nightSpans(nights, period), HEIGHT),
      ...layerOf(
        zeroMoves.map(({ start, end }) => ({
          x: Math.min(minutes(start), minutes(end) - (2 * axis.endMinutes) / PERIOD_WIDTH),
          x2: minutes(end),
          y: low,
          y2: high,
        })),
        {
          mark: { type: 'rect', color: COLOURS.suspect, opacity: 0.5 },
          encoding: { x2: { field: 'x2' }, y2: { field: 'y2' } },
        },
      ),
      ...midnightLayer(axis.midnights, HEIGHT),
      ...layerOf([{ y: 0 }], {
        mark: { type: 'rule', color: COLOURS.removed, strokeWidth: 1 },
        encoding: across,
      }),
      ...lineLayer(minMaxLine(meansSignal(agreement), period, PERIOD_WIDTH), COLOURS.difference, 1.3),
      ...lines.flatMap(({ y, dash }) =>
        layerOf([{ y }], {
          mark: { type: 'rule', color: COLOURS.ink, strokeWidth: 1, strokeDash: dash },
          encoding: across,
        }),
      ),
    ],
  };
}

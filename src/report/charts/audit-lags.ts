import type { AuditAlarms } from '../results-audit-alarms.js';
import { layerOf } from './layers.js';
import { onePlot } from './one-plot.js';
import { COLOURS } from './palette.js';
import type { Spec } from './spec.js';

const WIDTH = 540;
const HEIGHT = 90;
const PADDING = { left: 56, right: 16, top: 8, below: 40 } as const;
const TICK_MINUTES = 30;

/** Pairs of an alarm and a crossing of its own limit, by how long after the crossing it came on. */
export function lagsSpec({ minutes, reachSeconds }: AuditAlarms['clock']): Spec {
  const reach = reachSeconds / 60;
  const bars = minutes
    .filter(({ pairs }) => pairs > 0)
    .map(({ fromSeconds, pairs }) => ({ x: fromSeconds / 60, x2: fromSeconds / 60 + 1, y: pairs }));
  const most = bars.reduce((high, { y }) => Math.max(high, y), 1);
  const ticks = Math.floor(reach / TICK_MINUTES);
  const plot: Spec = {
    width: WIDTH,
    height: HEIGHT,
    encoding: {
      x: {
        field: 'x',
        type: 'quantitative',
        scale: { domain: [-reach, reach + 1], nice: false },
        title: 'onset of the alarm minus crossing (min)',
        axis: {
          values: Array.from({ length: 2 * ticks + 1 }, (_, i) => (i - ticks) * TICK_MINUTES),
          grid: false,
          labelFlush: false,
          labelExpr: `replace(format(datum.value, 'd'), '-', '−')`,
        },
      },
      y: {
        field: 'y',
        type: 'quantitative',
        scale: { domain: [0, most * 1.04], nice: false },
        title: 'pairs a minute',
        axis: { tickCount: 4, titleX: -42, format: 'd', tickMinStep: 1 },
      },
    },
    layer: [
      ...layerOf([{ x: 0 }], {
        mark: { type: 'rule', color: COLOURS.removed, strokeDash: [3, 3] },
        encoding: { y: { value: 0 }, y2: { value: HEIGHT } },
      }),
      ...layerOf(bars, {
        mark: { type: 'rect', color: COLOURS.note, clip: true },
        encoding: { x2: { field: 'x2' }, y2: { datum: 0 } },
      }),
    ],
  };
  return onePlot(plot, HEIGHT, PADDING);
}

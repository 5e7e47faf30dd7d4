import { CHANNEL_SHORT, CLASS_WORDS, CLASSES_SHOWN } from '../audit/class-words.js';
import { HIDDEN } from '../audit/count-words.js';
import type { AuditAlarms } from '../results-audit-alarms.js';
import { share } from '../words.js';
import { layerOf } from './layers.js';
import { onePlot } from './one-plot.js';
import { COLOURS } from './palette.js';
import type { Spec } from './spec.js';

const WIDTH = 400;
const BAR = 11;
/** Between the two bars of a class, and from one class to the next, pixels. */
const GAP = 1;
const ROW = 32;
const PADDING = { left: 84, right: 92, top: 6, below: 40 } as const;

/** What the alarms of each channel were: a bar a class and channel, as a share of the channel's alarms. */
export function classBarsSpec(channels: AuditAlarms['channels']): Spec {
  const withAny = channels.filter(({ alarms }) => alarms !== 0);
  const height = CLASSES_SHOWN.length * ROW;
  const bars = withAny.flatMap(({ channel, classes }, k) =>
    CLASSES_SHOWN.map((alarmClass, row) => {
      const one = classes.find((candidate) => candidate.alarmClass === alarmClass);
      const part = one?.share ?? null;
      const top = row * ROW + (ROW - withAny.length * (BAR + GAP)) / 2 + k * (BAR + GAP);
      const says =
        one === undefined || one.alarms === null
          ? `${CHANNEL_SHORT[channel]}: ${HIDDEN}`
          : part === null
            ? `${one.alarms}`
            : `${one.alarms} (${share(part)})`;
      return { x: part ?? 0, y: top, y2: top + BAR, middle: top + BAR / 2, says, colour: COLOURS[channel] };
    }),
  );
  const most = Math.max(0.1, ...bars.map(({ x }) => x));
  const domain = [0, Math.min(1, Math.ceil(most * 10 + 1e-9) / 10)];
  const plot: Spec = {
    width: WIDTH,
    height,
    encoding: {
      x: {
        field: 'x',
        type: 'quantitative',
        scale: { domain, nice: false },
        title: 'share of the alarms of the channel',
        axis: { tickCount: 5, labelExpr: "format(datum.value * 100, '.0f') + ' %'", labelFlush: false },
      },
      y: {
        field: 'y',
        type: 'quantitative',
        scale: { domain: [0, height], range: [0, height], nice: false },
        title: null,
        axis: {
          values: CLASSES_SHOWN.map((_, row) => (row + 0.5) * ROW),
          labelExpr: `(${JSON.stringify(
            Object.fromEntries(CLASSES_SHOWN.map((name, row) => [(row + 0.5) * ROW, CLASS_WORDS[name].name])),
          )})[datum.value]`,
          labelOverlap: false,
          labelFlush: false,
          grid: false,
          ticks: false,
          labelPadding: 6,
        },
      },
    },
    layer: [
      ...layerOf(bars, {
        mark: { type: 'rect' },
        encoding: {
          x2: { datum: 0 },
          y2: { field: 'y2' },
          color: { field: 'colour', type: 'nominal', scale: null },
        },
      }),
      ...layerOf(bars, {
        mark: { type: 'text', align: 'left', baseline: 'middle', dx: 4, fontSize: 10, color: COLOURS.ink },
        encoding: {
          y: { field: 'middle', type: 'quantitative' },
          text: { field: 'says', type: 'nominal' },
        },
      }),
    ],
  };
  return onePlot(plot, height, PADDING);
}

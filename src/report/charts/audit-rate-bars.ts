import type { AuditAlarms } from '../results-audit-alarms.js';
import { layerOf, nightLayer } from './layers.js';
import { COLOURS } from './palette.js';
import type { Spec } from './spec.js';

type Channel = AuditAlarms['channels'][number];
type Times = Pick<Channel['byHour'][number], 'perDay'>;

/** The same for both: a phone shows all drawings at one width, and would show a narrow one with huge letters. */
const WIDTH = 540;
const HEIGHT = 96;
const SPACING = 14;
const PADDING = { left: 48, right: 22, top: 8, below: 40 } as const;
/** Between bars, as a share of one. */
const GAP = 0.12;
/** Stands where there is no rate, so that it does not look like one of 0. */
export const NO_RATE = '?';

/** Bars of a channel. */
interface Panel {
  readonly name: string;
  readonly colour: string;
  readonly bins: readonly Times[];
  /** Stretches that are shaded, in bins. */
  readonly shaded: readonly { readonly from: number; readonly to: number }[];
}

interface BarsAxis {
  readonly width: number;
  readonly title: string;
  /** Where labels stand, in bins. */
  readonly labels: readonly { readonly at: number; readonly says: string }[];
}

function panelSpec({ name, colour, bins, shaded }: Panel, axis: BarsAxis, isLast: boolean): Spec {
  const bars = bins.flatMap(({ perDay: { value } }, i) =>
    value === null ? [] : [{ x: i + GAP / 2, x2: i + 1 - GAP / 2, y: value }],
  );
  const reaches = bins.flatMap(({ perDay: { lower, upper } }, i) =>
    lower === null || upper === null ? [] : [{ x: i + 0.5, y: lower, y2: upper }],
  );
  const most = Math.max(0, ...bars.map(({ y }) => y), ...reaches.map(({ y2 }) => y2));
  const labels = Object.fromEntries(axis.labels.map(({ at, says }) => [at, says]));
  return {
    width: axis.width,
    height: HEIGHT,
    encoding: {
      x: {
        field: 'x',
        type: 'quantitative',
        scale: { domain: [0, bins.length], nice: false },
        title: isLast ? axis.title : null,
        axis: {
          values: axis.labels.map(({ at }) => at),
          labelExpr: `(${JSON.stringify(labels)})[datum.value]`,
          labels: isLast,
          ticks: isLast,
          labelOverlap: false,
          labelFlush: false,
          grid: false,
        },
      },
      y: {
        field: 'y',
        type: 'quantitative',
        scale: { domain: [0, most === 0 ? 1 : most * 1.04], nice: false },
        title: `${name} alarms a day`,
        axis: { tickCount: 4, titleX: -34 },
      },
    },
    layer: [
      ...nightLayer(shaded, HEIGHT),
      ...layerOf(bars, {
        mark: { type: 'rect', color: colour },
        encoding: { x2: { field: 'x2' }, y2: { datum: 0 } },
      }),
      ...layerOf(reaches, {
        mark: { type: 'rule', color: COLOURS.ink, strokeWidth: 1 },
        encoding: { y2: { field: 'y2' } },
      }),
      ...layerOf(
        bins.flatMap(({ perDay: { value } }, i) =>
          value === null ? [{ x: i + 0.5, y: 0, says: NO_RATE }] : [],
        ),
        {
          mark: { type: 'text', baseline: 'bottom', dy: -2, fontSize: 11, color: COLOURS.note },
          encoding: { text: { field: 'says', type: 'nominal' } },
        },
      ),
      // Without any of them the axes are drawn all the same.
      ...layerOf([{ y: 0 }], {
        mark: { type: 'rule', color: COLOURS.removed },
        encoding: { x: { value: 0 }, x2: { value: axis.width } },
      }),
    ],
  };
}

function barsSpec(panels: readonly Panel[], axis: BarsAxis): Spec {
  return {
    vconcat: panels.map((panel, i) => panelSpec(panel, axis, i === panels.length - 1)),
    spacing: SPACING,
    bounds: 'flush',
    autosize: { type: 'none' },
    padding: {
      left: PADDING.left,
      right: PADDING.right,
      top: PADDING.top,
      bottom: panels.length * HEIGHT + (panels.length - 1) * SPACING + PADDING.below,
    },
  };
}

const NAMES = { icp: 'ICP', cpp: 'CPP' } as const;

/** Alarms a monitored patient-day by the hour of the day, with 95 % intervals; the night is shaded. */
export const hourRatesSpec = (channels: readonly Channel[]): Spec =>
  barsSpec(
    channels.map(({ channel, byHour }) => ({
      name: NAMES[channel],
      colour: COLOURS[channel],
      bins: byHour,
      shaded: byHour.filter(({ isNight }) => isNight).map(({ hour }) => ({ from: hour, to: hour + 1 })),
    })),
    {
      width: WIDTH,
      title: 'hour of the day',
      labels: Array.from({ length: 9 }, (_, i) => ({
        at: i * 3,
        says: `${String(i * 3).padStart(2, '0')}:00`,
      })),
    },
  );

/** The same by the day of the week. */
export const weekdayRatesSpec = (channels: readonly Channel[]): Spec =>
  barsSpec(
    channels.map(({ channel, byWeekday }) => ({
      name: NAMES[channel],
      colour: COLOURS[channel],
      bins: byWeekday,
      shaded: [],
    })),
    {
      width: WIDTH,
      title: 'day of the week',
      labels: (channels[0]?.byWeekday ?? []).map(({ weekday }, i) => ({
        at: i + 0.5,
        says: weekday.slice(0, 3),
      })),
    },
  );

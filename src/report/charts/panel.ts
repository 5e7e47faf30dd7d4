import { areaLayer, areasAbove } from './areas.js';
import { beyondLayer, beyondRange } from './beyond.js';
import { bandLayer, hatching, layerOf, lineLayer, midnightLayer, nightLayer, timeChannel } from './layers.js';
import { COLOURS } from './palette.js';
import type { LinePoint } from './reduce.js';
import type { ChartSpan } from './spans.js';
import type { Spec } from './spec.js';
import type { StackPart } from './stack.js';
import type { TimeAxis } from './time-axis.js';

/** A band of values, over the whole width of a plot; cut to what is drawn. */
export interface ValueBand {
  readonly from: number;
  readonly to: number;
  readonly colour: string;
  readonly opacity: number;
}

/** A threshold over a part of the time, minutes after the start of the chart. */
export interface ThresholdStep {
  readonly from: number;
  readonly to: number;
  readonly y: number;
}

/** One channel's panel of a chart over time. */
export interface Panel {
  readonly title: string;
  readonly colour: string;
  readonly height: number;
  readonly domain: readonly [number, number];
  readonly line: readonly LinePoint[];
  /** What cleaning removed, still visible. */
  readonly removed: readonly LinePoint[];
  /** A dashed line at this value, which stands beside it, so that it needs no legend. */
  readonly threshold: number | null;
  /** Where the threshold changes: one behind the other, minutes after the start; drawn in place of the one above. */
  readonly thresholdSteps?: readonly ThresholdStep[] | undefined;
  readonly episodes: readonly ChartSpan[];
  readonly suspect: readonly ChartSpan[];
  readonly nights: readonly ChartSpan[];
  /** Behind everything. */
  readonly bands?: readonly ValueBand[] | undefined;
  /** Filled between the line and the threshold, where the line is above it. */
  readonly fillsAbove?: boolean | undefined;
  /** A thin line at 0. */
  readonly hasZero?: boolean | undefined;
  /** A thicker line over the line, which is then a thin one. */
  readonly over?: { readonly line: readonly LinePoint[]; readonly colour: string } | undefined;
}

/** Pixels between the strokes of a hatched stretch. */
const HATCH_PIXELS = 5;

/** Bands of values as far as the plot has them. */
const bandsPart = ({ bands = [], domain: [low, high] }: Panel, width: number): Spec[] =>
  bands.flatMap(({ from, to, colour, opacity }) => {
    const [y, y2] = [Math.max(from, low), Math.min(to, high)];
    return y >= y2
      ? []
      : layerOf([{ y, y2 }], {
          mark: { type: 'rect', color: colour, opacity },
          encoding: { x: { value: 0 }, x2: { value: width }, y2: { field: 'y2' } },
        });
  });

/** Of a threshold: one with decimals has to fit beside the plot too, also in wide fonts. */
const labelSize = (threshold: number): { dx: number; fontSize: number } =>
  Number.isInteger(threshold) ? { dx: 4, fontSize: 11 } : { dx: 2, fontSize: 10 };

/** From back to front: bands, night, episodes, hatching, midnight, threshold, removed, the line, what lies over it, and where it is cut off. */
export function panelPart(panel: Panel, axis: TimeAxis, width: number): StackPart {
  const { domain, height, threshold, removed, line } = panel;
  const steps =
    panel.thresholdSteps ?? (threshold === null ? [] : [{ from: 0, to: axis.endMinutes, y: threshold }]);
  const last = steps.at(-1);
  const thresholds = steps.map(({ from, to, y }) => ({ x: from, x2: to, y }));
  const beyond = (points: readonly LinePoint[], color: string) =>
    beyondLayer(beyondRange(points, domain, axis.endMinutes, width), domain, height, color);
  const layers = [
    ...bandsPart(panel, width),
    ...nightLayer(panel.nights, height),
    ...bandLayer(panel.episodes, height, COLOURS.episode, 0.45),
    ...lineLayer(
      hatching(panel.suspect, domain, (axis.endMinutes / width) * HATCH_PIXELS),
      COLOURS.suspect,
      0.8,
    ),
    ...midnightLayer(axis.midnights, height),
    ...(panel.fillsAbove && threshold !== null
      ? areaLayer(areasAbove(line, threshold), COLOURS.past, 0.75)
      : []),
    ...layerOf(panel.hasZero ? [{ y: 0 }] : [], {
      mark: { type: 'rule', color: COLOURS.removed, strokeWidth: 1 },
      encoding: { x: { value: 0 }, x2: { value: width } },
    }),
    ...layerOf(thresholds, {
      mark: { type: 'rule', strokeDash: [4, 3], color: COLOURS.ink, strokeWidth: 1 },
      encoding: { x2: { field: 'x2' } },
    }),
    ...layerOf(last === undefined ? [] : [{ x: axis.endMinutes, y: last.y }], {
      mark: { type: 'text', align: 'left', color: COLOURS.ink, ...labelSize(last?.y ?? 0) },
      encoding: { text: { field: 'y', type: 'quantitative' } },
    }),
    ...layerOf(thresholds.slice(0, -1), {
      mark: {
        type: 'text',
        align: 'left',
        baseline: 'bottom',
        dx: 3,
        dy: -1,
        fontSize: 10,
        color: COLOURS.ink,
      },
      encoding: { text: { field: 'y', type: 'quantitative' } },
    }),
    ...lineLayer(removed, COLOURS.removed, 0.7),
    ...lineLayer(line, panel.colour, panel.over === undefined ? 1.1 : 0.4),
    ...lineLayer(panel.over?.line ?? [], panel.over?.colour ?? panel.colour, 1.8),
    ...beyond(removed, COLOURS.removed),
    ...beyond(line, COLOURS.ink),
  ];
  return {
    height,
    spec: (showHours) => ({
      width,
      height,
      encoding: {
        x: timeChannel(axis, showHours),
        y: {
          field: 'y',
          type: 'quantitative',
          scale: { domain: [...domain], nice: false, zero: false },
          title: panel.title,
          axis: { tickCount: Math.max(2, Math.round(height / 28)), titleX: -34 },
        },
      },
      // A channel of which nothing is known in the window keeps its axes.
      layer:
        thresholds.length + removed.length + line.length > 0
          ? layers
          : [...layers, { data: { values: [] }, mark: 'point' }],
    }),
  };
}

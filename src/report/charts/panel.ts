import { layerOf, lineLayer, midnightLayer, timeChannel } from './layers.js';
import { COLOURS } from './palette.js';
import type { LinePoint } from './reduce.js';
import type { Spec } from './spec.js';
import type { TimeAxis } from './time-axis.js';

/** A stretch on a time axis, minutes after the start of the chart. */
export interface ChartSpan {
  readonly from: number;
  readonly to: number;
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
  /** Dashed lines at these values. */
  readonly thresholds: readonly number[];
  readonly episodes: readonly ChartSpan[];
  readonly suspect: readonly ChartSpan[];
  readonly showHours: boolean;
}

/** Pixels between the strokes of a hatched stretch. */
const HATCH_PIXELS = 5;

type Domain = readonly [low: number, high: number];

/** Episodes as bands over the whole height. */
const band = (spans: readonly ChartSpan[], [low, high]: Domain): Spec[] =>
  layerOf(
    spans.map(({ from, to }) => ({ x: from, x2: to, y: low, y2: high })),
    {
      mark: { type: 'rect', color: COLOURS.episode, opacity: 0.45, clip: true },
      encoding: { x2: { field: 'x2' }, y2: { field: 'y2' } },
    },
  );

/** Slanted strokes that fill the stretches. */
function hatching(spans: readonly ChartSpan[], [low, high]: Domain, step: number): Spec[] {
  const strokes = spans.flatMap(({ from, to }) => {
    const count = Math.ceil((to - from) / step);
    return Array.from({ length: count }, (_, i) => from + i * step).map((x) => ({
      x,
      x2: Math.min(x + step, to),
      y: low,
      y2: high,
    }));
  });
  return layerOf(strokes, {
    mark: { type: 'rule', color: COLOURS.suspect, strokeWidth: 0.8, clip: true },
    encoding: { x2: { field: 'x2' }, y2: { field: 'y2' } },
  });
}

/** Dashed lines, each with its value beside it, so that they need no legend. */
const thresholdLayers = (thresholds: readonly number[], endMinutes: number, width: number): Spec[] => [
  ...layerOf(
    thresholds.map((y) => ({ y })),
    {
      mark: { type: 'rule', strokeDash: [4, 3], color: COLOURS.ink, strokeWidth: 1 },
      encoding: { x: { value: 0 }, x2: { value: width }, y: { field: 'y', type: 'quantitative' } },
    },
  ),
  ...layerOf(
    thresholds.map((y) => ({ y, x: endMinutes })),
    {
      mark: { type: 'text', align: 'left', dx: 4, fontSize: 11, color: COLOURS.ink },
      encoding: { text: { field: 'y', type: 'quantitative' } },
    },
  ),
];

/** The layers of a panel, from back to front: episodes, hatching, midnight, thresholds, removed, the line. */
export function panelSpec(panel: Panel, axis: TimeAxis, width: number): Spec {
  const { domain, episodes, suspect, showHours } = panel;
  const layers = [
    ...band(episodes, domain),
    ...hatching(suspect, domain, (axis.endMinutes / width) * HATCH_PIXELS),
    ...midnightLayer(axis.midnights, COLOURS.removed, panel.height),
    ...thresholdLayers(panel.thresholds, axis.endMinutes, width),
    ...lineLayer(panel.removed, COLOURS.removed, 0.7),
    ...lineLayer(panel.line, panel.colour, 1.1),
  ];
  return {
    width,
    height: panel.height,
    encoding: {
      x: timeChannel(axis, showHours),
      y: {
        field: 'y',
        type: 'quantitative',
        scale: { domain: [...domain], nice: false, zero: false },
        title: panel.title,
        axis: { tickCount: Math.max(2, Math.round(panel.height / 28)), titleX: -34 },
      },
    },
    // A channel of which nothing is known in the period keeps its empty panel.
    layer: layers.length > 0 ? layers : [{ data: { values: [] }, mark: 'point' }],
  };
}

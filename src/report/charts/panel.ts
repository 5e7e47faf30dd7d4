import { beyondLayer, beyondRange } from './beyond.js';
import { bandLayer, hatching, layerOf, lineLayer, midnightLayer, nightLayer, timeChannel } from './layers.js';
import { COLOURS } from './palette.js';
import type { LinePoint } from './reduce.js';
import type { ChartSpan } from './spans.js';
import type { StackPart } from './stack.js';
import type { TimeAxis } from './time-axis.js';

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
  readonly episodes: readonly ChartSpan[];
  readonly suspect: readonly ChartSpan[];
  readonly nights: readonly ChartSpan[];
}

/** Pixels between the strokes of a hatched stretch. */
const HATCH_PIXELS = 5;

/** From back to front: night, episodes, hatching, midnight, threshold, removed, the line, and where it is cut off. */
export function panelPart(panel: Panel, axis: TimeAxis, width: number): StackPart {
  const { domain, height, threshold, removed, line } = panel;
  const thresholds = threshold === null ? [] : [{ y: threshold, x: axis.endMinutes }];
  const beyond = (points: readonly LinePoint[], color: string) =>
    beyondLayer(beyondRange(points, domain, axis.endMinutes, width), domain, height, color);
  const layers = [
    ...nightLayer(panel.nights, height),
    ...bandLayer(panel.episodes, height, COLOURS.episode, 0.45),
    ...lineLayer(
      hatching(panel.suspect, domain, (axis.endMinutes / width) * HATCH_PIXELS),
      COLOURS.suspect,
      0.8,
    ),
    ...midnightLayer(axis.midnights, height),
    ...layerOf(thresholds, {
      mark: { type: 'rule', strokeDash: [4, 3], color: COLOURS.ink, strokeWidth: 1 },
      encoding: { x: { value: 0 }, x2: { value: width } },
    }),
    ...layerOf(thresholds, {
      mark: { type: 'text', align: 'left', dx: 4, fontSize: 11, color: COLOURS.ink },
      encoding: { text: { field: 'y', type: 'quantitative' } },
    }),
    ...lineLayer(removed, COLOURS.removed, 0.7),
    ...lineLayer(line, panel.colour, 1.1),
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

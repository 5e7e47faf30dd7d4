import { layerOf } from './layers.js';
import { mixed } from './mixed.js';
import { onePlot } from './one-plot.js';
import { COLOURS } from './palette.js';
import type { Spec } from './spec.js';

/** A map of settings: limits as rows, the highest on top, delays as columns. */
export interface HeatMap {
  readonly limitsMmHg: readonly number[];
  readonly delaysSeconds: readonly number[];
  /** At `limit * delays + delay`: 0 the lightest, 1 the darkest; null where there is no figure. */
  readonly darkness: readonly (number | null)[];
  /** What stands in each cell. */
  readonly texts: readonly string[];
  /** Cells with a dot. */
  readonly marked: ReadonlySet<number>;
  /** The cell with a frame; null where none has one. */
  readonly framed: number | null;
}

const ROW = 18;
/** Of all rows together: the name of their axis stands beside them. */
const LEAST_HEIGHT = 126;
/** Of all columns together, as long as each can hold its number, and of few: the name of their axis stands below. */
const WIDTH = 544;
const LEAST_WIDTH = 240;
const LEAST_COLUMN = 32;
const MOST_COLUMN = 60;
const PADDING = { left: 56, right: 12, top: 6, below: 44 } as const;
const EMPTY = '#f2f2f2';

/**
 * Shares of the blue in the paper. In between the last two neither dark nor white text would stand out by 4.5 : 1 (WCAG
 * 2.1, 1.4.3).
 */
const STEPS = [0.03, 0.16, 0.29, 0.42, 0.55, 0.68, 1] as const;

/** The colours of cells from the lightest to the darkest, each with that of its text. */
export const HEAT_STEPS: readonly { readonly fill: string; readonly text: string }[] = STEPS.map((share) => ({
  fill: mixed(share, COLOURS.map),
  text: share === 1 ? COLOURS.paper : COLOURS.ink,
}));

const EMPTY_STEP = { fill: EMPTY, text: COLOURS.note };

/** The colours of a darkness from 0 to 1. */
export const heatStep = (darkness: number | null): { readonly fill: string; readonly text: string } =>
  darkness === null
    ? EMPTY_STEP
    : HEAT_STEPS[Math.min(STEPS.length - 1, Math.floor(Math.max(0, darkness) * STEPS.length))];

/** Names of rows or columns in the middle of each. */
function names(values: readonly number[], title: string, more: Spec): Spec {
  const labels = Object.fromEntries(values.map((value, i) => [i + 0.5, String(value)]));
  return {
    scale: { domain: [0, values.length], nice: false, zero: false },
    title,
    axis: {
      values: values.map((_, i) => i + 0.5),
      labelExpr: `(${JSON.stringify(labels)})[datum.value]`,
      labelOverlap: false,
      grid: false,
      ticks: false,
      domain: false,
      ...more,
    },
  };
}

const plain = (field: string) => ({ field, type: 'nominal', scale: null, legend: null });

interface Box {
  readonly x: number;
  readonly x2: number;
  readonly y: number;
  readonly y2: number;
  readonly fill: string;
}

/** Neighbours of a row that have one shade as one box: half of what a page has to hold. */
function runsOf(cells: readonly Box[], columns: number): Box[] {
  const runs: Box[] = [];
  cells.forEach((cell, place) => {
    const last = runs.at(-1);
    if (last && place % columns > 0 && last.fill === cell.fill)
      runs[runs.length - 1] = { ...last, x2: cell.x2 };
    else runs.push({ x: cell.x, x2: cell.x2, y: cell.y, y2: cell.y2, fill: cell.fill });
  });
  return runs;
}

/** The borders between so many cells. */
const between = (count: number): { at: number }[] =>
  Array.from({ length: count - 1 }, (_, i) => ({ at: i + 1 }));

/** A grid of cells with a number in each: the more, the darker, in one hue, so that it reads in black and white too. */
export function heatMapSpec(map: HeatMap): Spec {
  const { limitsMmHg, delaysSeconds, marked, framed } = map;
  const columns = delaysSeconds.length;
  const rows = limitsMmHg.length;
  const column = Math.max(
    LEAST_COLUMN,
    Math.ceil(LEAST_WIDTH / columns),
    Math.min(MOST_COLUMN, Math.floor(WIDTH / columns)),
  );
  const row = Math.max(ROW, Math.ceil(LEAST_HEIGHT / rows));
  const [width, height] = [columns * column, rows * row];
  const cells = map.texts.map((says, place) => {
    const [x, y] = [place % columns, Math.floor(place / columns)];
    const { fill, text } = heatStep(map.darkness[place]);
    return {
      x,
      x2: x + 1,
      y,
      y2: y + 1,
      xm: x + 0.5,
      ym: y + 0.5,
      xd: x + 1 - 5 / column,
      yd: y + 1 - 5 / row,
      fill,
      text,
      says,
    };
  });
  const box = { x2: { field: 'x2' }, y2: { field: 'y2' } };
  const at = (x: string, y: string) => ({
    x: { field: x, type: 'quantitative' },
    y: { field: y, type: 'quantitative' },
  });
  const minutes = delaysSeconds.map((seconds) => Number((seconds / 60).toFixed(2)));
  const plot: Spec = {
    width,
    height,
    encoding: {
      x: {
        field: 'x',
        type: 'quantitative',
        ...names(minutes, 'delay before the alarm is raised (min)', {}),
      },
      y: {
        field: 'y',
        type: 'quantitative',
        ...names(limitsMmHg, 'alarm limit (mmHg)', { titleX: -36, labelPadding: 5 }),
      },
    },
    layer: [
      ...layerOf(runsOf(cells, columns), {
        mark: { type: 'rect' },
        encoding: { ...box, color: plain('fill') },
      }),
      ...layerOf(between(columns), {
        mark: { type: 'rule', color: COLOURS.paper, strokeWidth: 1 },
        encoding: { x: { field: 'at', type: 'quantitative' }, y: { value: 0 }, y2: { value: height } },
      }),
      ...layerOf(between(rows), {
        mark: { type: 'rule', color: COLOURS.paper, strokeWidth: 1 },
        encoding: { y: { field: 'at', type: 'quantitative' }, x: { value: 0 }, x2: { value: width } },
      }),
      ...layerOf(cells, {
        mark: { type: 'text', fontSize: 10, baseline: 'middle' },
        encoding: { ...at('xm', 'ym'), text: { field: 'says', type: 'nominal' }, color: plain('text') },
      }),
      ...layerOf(
        cells.filter((_, place) => marked.has(place)),
        {
          mark: { type: 'circle', size: 11, opacity: 1 },
          encoding: { ...at('xd', 'yd'), color: plain('text') },
        },
      ),
      // The paper around the ink, so that the frame stands out of the darkest cells too.
      ...[
        { stroke: COLOURS.paper, strokeWidth: 5 },
        { stroke: COLOURS.ink, strokeWidth: 2.5 },
      ].flatMap((line) =>
        layerOf(
          cells.filter((_, place) => place === framed),
          { mark: { type: 'rect', filled: false, ...line }, encoding: box },
        ),
      ),
    ],
  };
  return onePlot(plot, height, PADDING);
}

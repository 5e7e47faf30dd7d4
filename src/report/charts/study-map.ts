import { layerOf, lineLayer } from './layers.js';
import { onePlot } from './one-plot.js';
import { COLOURS } from './palette.js';
import type { LinePoint } from './reduce.js';
import { signLine } from './sign-line.js';
import type { Spec } from './spec.js';
import { type ColourStep, stepAt } from './study-colours.js';

/** A map of intensities as rows, the lowest below, and durations as columns. */
export interface StudyMap {
  readonly channel: 'icp' | 'cpp';
  readonly side: 'above' | 'below';
  readonly intensitiesMmHg: readonly number[];
  readonly durationsMinutes: readonly number[];
  /** By cell; null where it is blank. */
  readonly values: readonly (number | null)[];
  readonly steps: readonly ColourStep[];
  /** Cells with a dot. */
  readonly dotted?: readonly boolean[];
  /** The line along which the sign changes is drawn. */
  readonly hasSignLine?: boolean;
}

const SIZES = {
  large: { column: 14, row: 8, line: 2.4, dot: 2.2, stroke: 0.8, rule: 0.9 },
  small: { column: 6.5, row: 5, line: 1.5, dot: 1.2, stroke: 0.6, rule: 0.7 },
} as const;
export type MapSize = keyof typeof SIZES;

const PADDING = { left: 52, right: 12, top: 8, below: 42 } as const;
const BLANK = '#f3f3f3';
/** Strokes over blank cells. */
export const HATCH = '#a8a8a8';
/** Names of columns stand at least so far apart, pixels. */
const LEAST_APART = 21;
/** Durations that are named, those that matter most first. */
const NAMED_MINUTES = [1, 60, 10, 360, 5, 120, 30, 20, 2, 3, 240, 180, 90, 45];
const NAMED_MMHG = 5;
/** Of a row, from below. */
const RULED_AT = 0.1;

/** Columns that have a name, as many as have room. */
function namedColumns(durations: readonly number[], column: number): number[] {
  const last = [durations.length - 1];
  const wanted = [...NAMED_MINUTES.map((minutes) => durations.indexOf(minutes)), ...last];
  const named: number[] = [];
  for (const at of wanted) {
    if (at >= 0 && named.every((other) => Math.abs(other - at) * column >= LEAST_APART)) named.push(at);
  }
  return named.sort((a, b) => a - b);
}

/** An axis of cells, of which some have a name at their middle. */
function axisOf(count: number, named: readonly number[], names: readonly number[], title: string): Spec {
  const labels = Object.fromEntries(named.map((at) => [at + 0.5, String(names[at])]));
  return {
    type: 'quantitative',
    scale: { domain: [0, count], nice: false, zero: false },
    title,
    axis: {
      values: named.map((at) => at + 0.5),
      labelExpr: `(${JSON.stringify(labels)})[datum.value]`,
      labelOverlap: false,
      grid: false,
    },
  };
}

interface Box {
  readonly x: number;
  x2: number;
  readonly y: number;
  readonly y2: number;
}

/** The lines over boxes of one colour: along the lower edge of each, since dots stand in the middle. */
const linesOver = (boxes: readonly Box[]): LinePoint[] =>
  boxes.flatMap(({ x, x2, y }, run) => [x, x2].map((end) => ({ x: end, y: y + RULED_AT, run })));

/** Neighbours of a row with one colour as one box, by colour: -1 is blank. */
function boxesByStep({ values, steps }: StudyMap, columns: number): Map<number, Box[]> {
  const boxes = new Map<number, Box[]>();
  values.forEach((value, place) => {
    const [x, y] = [place % columns, Math.floor(place / columns)];
    const step = value === null ? -1 : stepAt(steps, value);
    const own = boxes.get(step) ?? [];
    boxes.set(step, own);
    const last = own.at(-1);
    if (last && last.y === y && last.x2 === x) last.x2 = x + 1;
    else own.push({ x, x2: x + 1, y, y2: y + 1 });
  });
  return boxes;
}

/** A slanted stroke through each blank cell; those of neighbours are one. */
function hatchOf(values: StudyMap['values'], columns: number): LinePoint[] {
  const rows = values.length / columns;
  const isBlank = (x: number, y: number): boolean =>
    x >= 0 && x < columns && y >= 0 && y < rows && values[y * columns + x] === null;
  const points: LinePoint[] = [];
  values.forEach((_, place) => {
    const [x, y] = [place % columns, Math.floor(place / columns)];
    if (!isBlank(x, y) || isBlank(x - 1, y - 1)) return;
    let length = 1;
    while (isBlank(x + length, y + length)) length++;
    points.push({ x, y, run: place }, { x: x + length, y: y + length, run: place });
  });
  return points;
}

const rounded = (layers: readonly Spec[]): Spec[] =>
  layers.map((layer) => ({ ...layer, mark: { ...(layer.mark as object), strokeCap: 'round' } }));

/**
 * The map of a unit: each cell in the colour of its step, ruled where that is, blank ones hatched. One way of drawing for each colour keeps the
 * drawing small.
 */
export function studyMapSpec(map: StudyMap, size: MapSize): Spec {
  const { channel, side, intensitiesMmHg, durationsMinutes, values, steps } = map;
  const { column, row, line, dot, stroke, rule } = SIZES[size];
  const [columns, rows] = [durationsMinutes.length, intensitiesMmHg.length];
  const [width, height] = [columns * column, rows * row];
  const boxes = boxesByStep(map, columns);
  const namedRows = [...intensitiesMmHg.keys()].filter((k) => intensitiesMmHg[k] % NAMED_MMHG === 0);
  const dots = (map.dotted ?? []).flatMap((isDotted, place): LinePoint[] => {
    if (!isDotted) return [];
    const [x, y] = [(place % columns) + 0.5, Math.floor(place / columns) + 0.5];
    // As short as rounding leaves a stroke: its round ends make the dot.
    return [-0.1, 0.1].map((pixels) => ({ x: x + pixels / column, y, run: place }));
  });
  const sign = (map.hasSignLine ? signLine(values, columns) : []).flatMap((piece, run) =>
    piece.map(({ x, y }) => ({ x, y, run })),
  );
  const plot: Spec = {
    width,
    height,
    encoding: {
      x: {
        field: 'x',
        ...axisOf(
          columns,
          namedColumns(durationsMinutes, column),
          durationsMinutes,
          'lasting at least so long (min)',
        ),
      },
      y: {
        field: 'y',
        ...axisOf(rows, namedRows, intensitiesMmHg, `${channel.toUpperCase()} ${side} (mmHg)`),
      },
    },
    layer: [
      ...[...boxes.keys()]
        .sort((a, b) => a - b)
        .flatMap((step) => {
          const { fill, ruled }: Pick<ColourStep, 'fill' | 'ruled'> =
            step < 0 ? { fill: BLANK } : steps[step];
          const own = boxes.get(step) ?? [];
          return [
            ...layerOf(own, {
              // The rim closes the seams that a printer would leave between rows.
              mark: { type: 'rect', color: fill, stroke: fill, strokeWidth: 0.4 },
              encoding: { x2: { field: 'x2' }, y2: { field: 'y2' } },
            }),
            ...(ruled === undefined ? [] : lineLayer(linesOver(own), ruled, rule)),
          ];
        }),
      ...lineLayer(hatchOf(values, columns), HATCH, stroke),
      ...rounded(lineLayer(dots, COLOURS.ink, dot)),
      ...rounded(lineLayer(sign, COLOURS.paper, line + 2)),
      ...rounded(lineLayer(sign, COLOURS.ink, line)),
    ],
  };
  return onePlot(plot, height, PADDING);
}

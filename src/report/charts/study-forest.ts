import { layerOf } from './layers.js';
import { logTicks } from './log-ticks.js';
import { onePlot } from './one-plot.js';
import { COLOURS } from './palette.js';
import type { Spec } from './spec.js';

/** An odds ratio with its interval; what is missing is null. */
export interface ForestOdds {
  readonly value: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly isPenalised: boolean;
}

/** A feature of the chart. */
export interface ForestRow {
  /** What it is called, and below it the step. */
  readonly name: string;
  readonly step: string;
  readonly unadjusted: ForestOdds | null;
  readonly adjusted: ForestOdds | null;
}

/** MAP, whose colour this is in other charts, has no place in this one. */
export const FOREST_COLOURS = { unadjusted: COLOURS.ink, adjusted: COLOURS.map } as const;

/** Odds ratios beyond these are not drawn to scale: intervals are cut, and arrows stand where they go on. */
export const FOREST_LIMITS = [0.05, 20] as const;

/** Names of many features take a line each, and of few up to three. */
const WIDTHS = { few: 430, many: 340 } as const;
const MOST_ROW = 44;
/** Under this, names have one line. */
const ROOMY_ROW = 34;
/** A name of more letters takes two lines. */
const LONG_NAME = 30;
const LEAST_ROW = 17;
/** More features would not fit on a sheet. */
export const MOST_FOREST_ROWS = 48;
/** A chart of many features has to fit on a sheet, with its title. */
const MOST_HEIGHT = 820;
const PADDING = { top: 8, right: 24, below: 42 } as const;
/** Of a letter of a name, pixels, in the widest font that a page may fall back to: no name is cut. */
const LETTER = 7.2;
/** From line to line of a name, pixels. */
const LINE = 13;
/** Of a mark from the middle of its row, as a share of the row. */
const APART = 0.17;

const SERIES = [
  { key: 'unadjusted', offset: -APART, shape: 'circle' },
  { key: 'adjusted', offset: APART, shape: 'square' },
] as const;

const knownOf = (rows: readonly ForestRow[]): number[] =>
  rows
    .flatMap(({ unadjusted, adjusted }) => [unadjusted, adjusted])
    .flatMap((odds) => (odds === null ? [] : [odds.value, odds.lower, odds.upper]))
    .filter((value) => value !== null);

/** From where to where odds ratios are drawn: all of them and 0.5 to 2 at least, inside of the limits. */
export function forestDomain(rows: readonly ForestRow[]): [number, number] {
  const known = knownOf(rows);
  const [least, most] = FOREST_LIMITS;
  return [Math.max(least, Math.min(0.5, ...known) / 1.1), Math.min(most, Math.max(2, ...known) * 1.1)];
}

/** A long name in two lines, parted at the blank nearest to its middle. */
function halved(name: string): string[] {
  if (name.length <= LONG_NAME) return [name];
  const blanks = [...name.matchAll(/ /g)].map(({ index }) => index);
  const off = (at: number): number => Math.abs(at - name.length / 2);
  const at = blanks.reduce(
    (best, blank) => (off(blank) < off(best) ? blank : best),
    blanks[0] ?? name.length,
  );
  return [name.slice(0, at), name.slice(at + 1)].filter((line) => line !== '');
}

interface Mark {
  readonly y: number;
  readonly value: number | null;
  readonly from: number;
  readonly to: number;
  readonly goesLower: boolean;
  readonly goesHigher: boolean;
  readonly isPenalised: boolean;
}

/** An odds ratio inside of the domain; null where there is nothing to draw. */
function markOf(odds: ForestOdds | null, y: number, [low, high]: readonly [number, number]): Mark | null {
  if (odds === null || odds.value === null) return null;
  const { value, lower, upper, isPenalised } = odds;
  const inside = (x: number): number => Math.min(high, Math.max(low, x));
  const [from, to] = [lower ?? value, upper ?? value];
  return {
    y,
    value: value < low || value > high ? null : value,
    from: inside(from),
    to: inside(to),
    goesLower: from < low,
    goesHigher: to > high,
    isPenalised,
  };
}

function layersOf(
  { key, offset, shape }: (typeof SERIES)[number],
  rows: readonly ForestRow[],
  domain: readonly [number, number],
): Spec[] {
  const color = FOREST_COLOURS[key];
  const marks = rows.flatMap((row, i) => markOf(row[key], i + 0.5 + offset, domain) ?? []);
  const points = (isPenalised: boolean) =>
    marks.flatMap((mark) =>
      mark.isPenalised === isPenalised && mark.value !== null ? [{ x: mark.value, y: mark.y }] : [],
    );
  const arrows = (at: number, goes: (mark: Mark) => boolean, angle: number): Spec[] =>
    layerOf(
      marks.filter(goes).map(({ y }) => ({ x: at, y })),
      {
        mark: { type: 'point', shape: 'triangle-up', filled: true, size: 55, color, angle, opacity: 1 },
      },
    );
  return [
    ...layerOf(
      marks.map(({ y, from, to }) => ({ y, x: from, x2: to })),
      { mark: { type: 'rule', color, strokeWidth: 1.4 }, encoding: { x2: { field: 'x2' } } },
    ),
    ...arrows(domain[0], ({ goesLower }) => goesLower, -90),
    ...arrows(domain[1], ({ goesHigher }) => goesHigher, 90),
    ...layerOf(points(false), {
      mark: { type: 'point', shape, filled: true, size: 52, color, opacity: 1 },
    }),
    ...layerOf(points(true), {
      mark: {
        type: 'point',
        shape,
        filled: true,
        fill: COLOURS.paper,
        stroke: color,
        strokeWidth: 1.6,
        size: 52,
        opacity: 1,
      },
    }),
  ];
}

/**
 * Odds ratios of features with their intervals, unadjusted and adjusted below each other, on a logarithmic axis. Hollow marks
 * are by penalised likelihood; an arrow at the edge is where an interval goes on.
 *
 * @param rows one at least
 */
export function forestSpec(rows: readonly ForestRow[]): Spec {
  const row = Math.max(LEAST_ROW, Math.min(MOST_ROW, Math.floor(MOST_HEIGHT / rows.length)));
  const height = row * rows.length;
  const isRoomy = row >= ROOMY_ROW;
  const width = isRoomy ? WIDTHS.few : WIDTHS.many;
  const domain = forestDomain(rows);
  const linesOf = ({ name, step }: ForestRow): string[] =>
    isRoomy ? [...halved(name), step] : [`${name}, ${step}`];
  const names = rows.flatMap((one, i) => {
    const lines = linesOf(one);
    return lines.map((says, k) => ({ y: i + 0.5 + ((k - (lines.length - 1) / 2) * LINE) / row, says }));
  });
  const longest = Math.max(...names.map(({ says }) => says.length));
  const plot: Spec = {
    width,
    height,
    encoding: {
      x: {
        field: 'x',
        type: 'quantitative',
        scale: { type: 'log', domain, nice: false },
        title: 'odds ratio of an unfavourable outcome (logarithmic)',
        axis: { values: logTicks(domain), format: '~r', labelFlush: false },
      },
      y: {
        field: 'y',
        type: 'quantitative',
        scale: { domain: [rows.length, 0], nice: false, zero: false },
        title: null,
        axis: {
          labels: false,
          ticks: false,
          grid: false,
        },
      },
    },
    layer: [
      ...layerOf(
        rows.slice(1).map((_, i) => ({ y: i + 1 })),
        {
          mark: { type: 'rule', color: COLOURS.grid },
          encoding: { x: { value: 0 }, x2: { value: width } },
        },
      ),
      ...layerOf([{ x: 1 }], {
        mark: { type: 'rule', color: COLOURS.ink, strokeDash: [4, 3] },
        encoding: { y: { value: 0 }, y2: { value: height } },
      }),
      ...layerOf(names, {
        mark: { type: 'text', align: 'right', baseline: 'middle', fontSize: 11, color: COLOURS.ink },
        encoding: { x: { value: -6 }, text: { field: 'says', type: 'nominal' } },
      }),
      ...SERIES.flatMap((series) => layersOf(series, rows, domain)),
    ],
  };
  return onePlot(plot, height, { ...PADDING, left: Math.ceil(longest * LETTER) + 20 });
}

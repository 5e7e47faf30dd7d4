import type { StudyDoseResult } from '../results-study-dose.js';
import { layerOf, lineLayer } from './layers.js';
import { onePlot } from './one-plot.js';
import { COLOURS } from './palette.js';
import type { Spec } from './spec.js';

const WIDTH = 264;
const HEIGHT = 176;
const PADDING = { left: 50, right: 14, top: 10, below: 40 } as const;
const TITLE_LINE = 13;
/** Of the range, beside its ends, so that no point stands on an axis. */
const MARGIN = 0.03;
/** A last group that reaches further than this share beyond the curve is cut, or its few would squeeze all others. */
const MOST_BEYOND = 0.25;
/** An axis title of more characters takes two lines. */
const LONG_TITLE = 46;

/** Of what is sure of the curve: neutral, since no place of it is a verdict. */
export const BAND = '#d9d9d9';
export const CURVE = COLOURS.note;
export const EXTENT = COLOURS.removed;

/** The range of a feature that a chart shows, and whether the last group goes on beyond it. */
export function doseRange({ groups, curve }: StudyDoseResult): { from: number; to: number; isCut: boolean } {
  const places = [
    ...(curve?.points ?? []).map(({ at }) => at),
    ...(groups ?? []).flatMap(({ from, median }) => [from, median]),
  ];
  const [from, inner] = [Math.min(...places), Math.max(...places)];
  const last = Math.max(inner, ...(groups ?? []).map(({ to }) => to));
  const isCut = last > inner + MOST_BEYOND * (inner - from);
  return { from, to: isCut ? inner : last, isCut };
}

/** In two lines where it is long: broken at the space nearest to its middle. */
function titleLines(title: string): readonly string[] {
  if (title.length <= LONG_TITLE) return [title];
  const spaces = [...title].flatMap((c, i) => (c === ' ' ? [i] : []));
  const half = title.length / 2;
  const at = spaces.reduce((best, i) => (Math.abs(i - half) < Math.abs(best - half) ? i : best));
  return [title.slice(0, at), title.slice(at + 1)];
}

/**
 * The share of unfavourable outcomes over burden: a point a group at its median, with the group's extent and the interval of
 * its share, over the curve of the chance with its band.
 *
 * @param xTitle of the axis of burden, with its unit
 */
export function studyDoseSpec(dose: StudyDoseResult, xTitle: string): Spec {
  const groups = dose.groups ?? [];
  const points = dose.curve?.points ?? [];
  const { from, to } = doseRange(dose);
  const margin = MARGIN * (to - from || 1);
  const end = to + margin;
  const lines = titleLines(xTitle);
  const patients = groups.reduce((sum, group) => sum + group.patients, 0);
  const all = groups.reduce((sum, group) => sum + group.unfavourable, 0) / patients;
  const bars = groups.map((group) => ({
    x: group.from,
    x2: group.to > to ? end : group.to,
    xm: group.median,
    y: group.share.value,
    low: group.share.lower,
    high: group.share.upper,
  }));
  const rule = (encoding: Spec, color: string, strokeWidth: number): Spec[] =>
    layerOf(bars, { mark: { type: 'rule', color, strokeWidth }, encoding });
  const middle = { x: { field: 'xm', type: 'quantitative' } };
  const plot: Spec = {
    width: WIDTH,
    height: HEIGHT,
    encoding: {
      x: {
        field: 'x',
        type: 'quantitative',
        scale: { domain: [from - margin, end], nice: false, zero: false },
        title: lines,
        axis: { tickCount: 6, grid: false, titleLineHeight: TITLE_LINE, titlePadding: 6 },
      },
      y: {
        field: 'y',
        type: 'quantitative',
        scale: { domain: [0, 1], nice: false },
        title: 'unfavourable outcome (%)',
        axis: { values: [0, 0.25, 0.5, 0.75, 1], labelExpr: 'datum.value * 100', titleX: -36 },
      },
    },
    layer: [
      ...layerOf(
        points.map(({ at, lower, upper }) => ({ x: at, low: lower, high: upper })),
        {
          mark: { type: 'area', color: BAND, opacity: 1 },
          encoding: {
            y: { field: 'low', type: 'quantitative' },
            y2: { field: 'high' },
            order: { value: null },
          },
        },
      ),
      ...layerOf(Number.isFinite(all) ? [{ y: all }] : [], {
        mark: { type: 'rule', color: EXTENT, strokeDash: [2, 3] },
        encoding: { x: { value: 0 }, x2: { value: WIDTH } },
      }),
      ...lineLayer(
        points.map(({ at, share }) => ({ x: at, y: share, run: 1 })),
        CURVE,
        1.8,
      ),
      ...rule({ x2: { field: 'x2' } }, EXTENT, 1.4),
      ...rule(
        { ...middle, y: { field: 'low', type: 'quantitative' }, y2: { field: 'high' } },
        COLOURS.ink,
        1.4,
      ),
      ...layerOf(bars, {
        mark: { type: 'point', filled: true, size: 46, color: COLOURS.ink, opacity: 1 },
        encoding: middle,
      }),
    ],
  };
  return onePlot(plot, HEIGHT + (lines.length - 1) * TITLE_LINE, PADDING);
}

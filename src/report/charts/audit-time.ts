import type { AuditTime, MeasureResult, ViewResult } from '../results-audit-time.js';
import { day } from '../words.js';
import { layerOf, lineLayer } from './layers.js';
import { COLOURS } from './palette.js';
import type { LinePoint } from './reduce.js';
import type { Spec } from './spec.js';

const WIDTH = 520;
const HEIGHT = 120;
const PADDING = { left: 66, right: 30, top: 28 } as const;
const AXIS_PIXELS = 36;
/** Between two dates of the axis, pixels. */
const LEAST_APART = 58;
const DAY_MS = 86_400_000;
/** What was changed is cut here, characters. */
const LONGEST_LABEL = 30;

/** How a measure is drawn. */
interface TimeAxisOf {
  readonly title: string;
  /** Of its axis, by d3. */
  readonly format: string;
  /** No value can be higher; null where there is no such. */
  readonly most: number | null;
}

export const TIME_AXES: Readonly<Record<MeasureResult['measure'], TimeAxisOf>> = {
  alarmsPerDay: { title: 'alarms / patient-day', format: '.3~f', most: null },
  sustainedShare: { title: 'share of alarms', format: '.0%', most: 1 },
  treatedShare: { title: 'share of episodes', format: '.0%', most: 1 },
  medianMinutesToTreatment: { title: 'min', format: '.3~f', most: null },
  monitoredDays: { title: 'patient-days', format: '.3~f', most: null },
};

/** Days since the first point begins, on the clock on the wall, so that each week is as wide as any other. */
const localDays = (iso: string): number => Date.parse(`${iso.slice(0, 19)}Z`) / DAY_MS;

/** A round number that is not under the value, of which a half and a quarter are round too. */
function roundUp(value: number): number {
  if (!(value > 0)) return 1;
  const power = 10 ** Math.floor(Math.log10(value));
  return (
    ([1, 1.2, 1.6, 2, 2.4, 3.2, 4, 6, 8].find((step) => step * power >= value * (1 - 1e-9)) ?? 10) * power
  );
}

/** The points that a view is of. */
const PART_OF = { all: 'all', baseline: 'before', carried: 'after', rebased: 'after' } as const;

/** A view as the chart has it. */
interface DrawnView {
  readonly view: ViewResult;
  readonly isCarried: boolean;
}

/** Views whose lines are drawn: points by themselves before a change, and what is carried over after it. */
const drawnViews = ({ views }: MeasureResult): DrawnView[] =>
  views.flatMap((view) => (view.kind === 'rebased' ? [] : [{ view, isCarried: view.kind === 'carried' }]));

/** One measure over time: points, the median, limits as steps, the date of a change with what was changed. */
export function timeMeasureSpec(part: AuditTime, measure: MeasureResult): Spec {
  const first = part.points[0];
  const last = part.points[part.points.length - 1];
  const zero = localDays(first.start);
  const end = Math.max(1, localDays(last.end) - zero);
  const spans = new Map(
    part.points.map(({ start, end: to }) => [
      start,
      { from: localDays(start) - zero, to: localDays(to) - zero },
    ]),
  );
  const spanOf = (start: string) => spans.get(start) ?? { from: 0, to: 0 };
  const middleOf = (start: string): number => (spanOf(start).from + spanOf(start).to) / 2;
  const { title, format, most } = TIME_AXES[measure.measure];
  const views = drawnViews(measure);
  const shown = [
    ...measure.points.map(({ value }) => value ?? 0),
    ...views.flatMap(({ view }) => [view.run.centreLine ?? 0, ...view.limits.map(({ upper }) => upper ?? 0)]),
  ];
  const top = Math.min(most ?? Number.POSITIVE_INFINITY, roundUp(shown.reduce((a, b) => Math.max(a, b), 0)));
  let run = 0;
  const line: LinePoint[] = measure.points.flatMap(({ start, value }) => {
    if (value === null) run++;
    return value === null ? [] : [{ x: middleOf(start), y: value, run }];
  });
  const beyond = new Set(
    views.flatMap(({ view }) => view.limits.filter((one) => one.beyond !== null).map(({ start }) => start)),
  );
  const limitSteps = ({ limits }: ViewResult, side: 'lower' | 'upper'): LinePoint[] => {
    let stroke = 0;
    let before = Number.NaN;
    return limits.flatMap(({ start, [side]: y }) => {
      const { from, to } = spanOf(start);
      if (y === null || (side === 'lower' && y <= 0)) return [];
      if (from !== before) stroke++;
      before = to;
      return [from, to].map((x) => ({ x, y, run: stroke }));
    });
  };
  const across = { y: { value: 0 }, y2: { value: HEIGHT } };
  // Over all weeks or months that it holds for, also where one is left out.
  const medians = views.flatMap(({ view, isCarried }) => {
    const own = part.points.filter((point) => point.part === PART_OF[view.kind]);
    const [from, to] = [own[0], own.at(-1)];
    return view.run.centreLine === null || from === undefined || to === undefined
      ? []
      : [{ y: view.run.centreLine, x: spanOf(from.start).from, x2: spanOf(to.start).to, isCarried }];
  });
  const changed = part.changed === null ? null : localDays(part.changed.at) - zero;
  const plot: Spec = {
    width: WIDTH,
    height: HEIGHT,
    encoding: {
      x: xChannel(part, zero, end),
      y: {
        field: 'y',
        type: 'quantitative',
        scale: { domain: [0, top], nice: false },
        title,
        axis: { values: [0, top / 4, top / 2, (top * 3) / 4, top], format, titleX: -46 },
      },
    },
    layer: [
      ...views.flatMap(({ view, isCarried }) =>
        (['lower', 'upper'] as const).flatMap((side) =>
          dashed(lineLayer(limitSteps(view, side), COLOURS.removed, 1), isCarried),
        ),
      ),
      ...[false, true].flatMap((isCarried) =>
        layerOf(
          medians.filter((one) => one.isCarried === isCarried),
          {
            mark: {
              type: 'rule',
              color: COLOURS.ink,
              strokeWidth: 1.2,
              ...(isCarried ? { strokeDash: [5, 3] } : {}),
            },
            encoding: { x2: { field: 'x2' } },
          },
        ),
      ),
      ...(changed === null || changed < 0 || changed > end ? [] : changeLayers(part, changed, end, across)),
      ...lineLayer(line, COLOURS.note, 0.7),
      ...layerOf(
        measure.points.flatMap(({ start, value }) =>
          value === null ? [] : [{ x: middleOf(start), y: value }],
        ),
        { mark: { type: 'point', filled: true, size: 26, color: COLOURS.note, opacity: 1 } },
      ),
      ...layerOf(
        measure.points.flatMap(({ start, value }) =>
          value === null || !beyond.has(start) ? [] : [{ x: middleOf(start), y: value }],
        ),
        {
          mark: {
            type: 'point',
            filled: false,
            size: 110,
            color: COLOURS.ink,
            strokeWidth: 1.4,
            opacity: 1,
          },
        },
      ),
      // Where nothing is known the axes stay.
      { data: { values: [] }, mark: 'point' },
    ],
  };
  return {
    vconcat: [plot],
    bounds: 'flush',
    autosize: { type: 'none' },
    padding: { ...PADDING, bottom: HEIGHT + AXIS_PIXELS },
  };
}

const dashed = (layers: Spec[], isDashed: boolean): Spec[] =>
  isDashed
    ? layers.map((layer) => ({ ...layer, mark: { ...(layer.mark as object), strokeDash: [4, 3] } }))
    : layers;

/** Dates at the starts of weeks or months, as many as there is room for; the year at the first and where it changes. */
function xChannel({ points, per }: AuditTime, zero: number, end: number): Spec {
  const pixels = (start: string): number => ((localDays(start) - zero) / end) * WIDTH;
  const room = Math.max(1, Math.ceil((points.length * LEAST_APART) / WIDTH));
  // The first point may be cut and then stand near the second.
  const from = points.length > 1 && room === 1 && pixels(points[1].start) < LEAST_APART ? 1 : 0;
  const shown = points.filter((_, i) => i >= from && (i - from) % room === 0);
  const labels = new Map<number, string[]>();
  shown.forEach(({ start }, i) => {
    const [date, month, year] = day(start).split(' ');
    const name = per === 'week' ? `${date} ${month.slice(0, 3)}` : month.slice(0, 3);
    const isNew = i === 0 || shown[i - 1].start.slice(0, 4) !== start.slice(0, 4);
    labels.set(localDays(start) - zero, isNew ? [name, year] : [name]);
  });
  return {
    field: 'x',
    type: 'quantitative',
    scale: { domain: [0, end], nice: false },
    title: null,
    axis: {
      values: [...labels.keys()],
      labelExpr: `(${JSON.stringify(Object.fromEntries(labels))})[datum.value]`,
      labelOverlap: false,
      labelFlush: false,
      labelLineHeight: 13,
      grid: false,
    },
  };
}

/** The date of a change as a rule, with its label above the plot on the side that has more room. */
function changeLayers({ changed }: AuditTime, x: number, end: number, across: Spec): Spec[] {
  if (changed === null) return [];
  const isLeft = x > end / 2;
  const what = [...changed.what];
  const cut =
    what.length > LONGEST_LABEL
      ? `${what
          .slice(0, LONGEST_LABEL - 1)
          .join('')
          .trimEnd()}…`
      : changed.what;
  return [
    ...layerOf([{ x }], {
      mark: { type: 'rule', color: COLOURS.ink, strokeWidth: 1.4 },
      encoding: across,
    }),
    ...layerOf([{ x, says: `${day(changed.at)}: ${cut}` }], {
      mark: {
        type: 'text',
        align: isLeft ? 'right' : 'left',
        baseline: 'bottom',
        dx: isLeft ? 3 : -3,
        dy: -9,
        fontSize: 11,
        color: COLOURS.ink,
      },
      encoding: { y: { value: 0 }, text: { field: 'says', type: 'nominal' } },
    }),
  ];
}

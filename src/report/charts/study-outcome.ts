import type { StudyOutcomeResult } from '../results-study-cohort.js';
import { layerOf } from './layers.js';
import { onePlot } from './one-plot.js';
import { COLOURS } from './palette.js';
import type { Spec } from './spec.js';
import { SIDE_COLOURS } from './study-sides.js';

const WIDTH = 216;
const ROW = 24;
const BAR = 15;
const PADDING = { left: 180, right: 44, top: 6, below: 42 } as const;

type Outcome = Pick<StudyOutcomeResult, 'scale' | 'levels'>;
type Level = StudyOutcomeResult['levels'][number];

/** `5 lower moderate disability`; of mortality the word alone. */
export const levelWords = ({ scale }: Pick<Outcome, 'scale'>, { code, title }: Level): string =>
  scale === 'mortality' ? title : `${code} ${title}`;

/** How many patients have each level of the outcome, the best on top, and where it is cut. */
export function studyOutcomeSpec(outcome: Outcome): Spec {
  const levels = [...outcome.levels].reverse();
  const height = levels.length * ROW;
  const most = Math.max(1, ...levels.map(({ count }) => count));
  const bars = levels.map(({ count, isFavourable }, i) => ({
    x: count,
    y: (i + 0.5) * ROW - BAR / 2,
    y2: (i + 0.5) * ROW + BAR / 2,
    middle: (i + 0.5) * ROW,
    says: String(count),
    colour: SIDE_COLOURS[isFavourable ? 'favourable' : 'unfavourable'],
  }));
  const cut = levels.filter(({ isFavourable }) => isFavourable).length * ROW;
  const names = Object.fromEntries(levels.map((level, i) => [(i + 0.5) * ROW, levelWords(outcome, level)]));
  const plot: Spec = {
    width: WIDTH,
    height,
    encoding: {
      x: {
        field: 'x',
        type: 'quantitative',
        scale: { domain: [0, most], nice: false },
        title: 'patients',
        axis: { tickCount: Math.min(5, most), format: 'd', labelFlush: false },
      },
      y: {
        field: 'y',
        type: 'quantitative',
        scale: { domain: [0, height], range: [0, height], nice: false },
        title: null,
        axis: {
          values: levels.map((_, i) => (i + 0.5) * ROW),
          labelExpr: `(${JSON.stringify(names)})[datum.value]`,
          // Vega guesses how wide a text is, and would cut the longer ones.
          labelLimit: 0,
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
        mark: { type: 'text', align: 'left', baseline: 'middle', dx: 5, fontSize: 11, color: COLOURS.ink },
        encoding: {
          y: { field: 'middle', type: 'quantitative' },
          text: { field: 'says', type: 'nominal' },
        },
      }),
      ...layerOf([{ y: cut }], {
        mark: { type: 'rule', color: COLOURS.note, strokeDash: [5, 3], strokeWidth: 1.2 },
        encoding: { x: { value: 6 - PADDING.left }, x2: { value: WIDTH + PADDING.right - 6 } },
      }),
    ],
  };
  return onePlot(plot, height, PADDING);
}

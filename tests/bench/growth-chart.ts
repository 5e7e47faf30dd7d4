import type { Spec } from '../../src/report/charts/spec.js';

/** The time of a row at one size. */
export interface GrowthPoint {
  readonly n: number;
  readonly by: 'patients' | 'days';
  readonly microseconds: number;
}

const panel = (points: readonly GrowthPoint[], title: string, axis: string, scale: object): object => ({
  title: { text: title, fontSize: 12, anchor: 'start' },
  width: 300,
  height: 200,
  data: { values: points },
  mark: { type: 'line', point: true, color: '#0072B2' },
  encoding: {
    x: { field: 'n', type: 'quantitative', scale: { type: 'log', nice: false }, title: axis },
    y: {
      field: 'microseconds',
      type: 'quantitative',
      scale,
      title: 'µs a row',
    },
  },
});

/** Time of a row over patients and over days, both axes logarithmic; a level line is growth in proportion to the data. */
export function growthSpec(points: readonly GrowthPoint[]): Spec {
  const times = points.map(({ microseconds }) => microseconds).filter((time) => time > 0);
  const scale = {
    type: 'log',
    domain: [0.8 * Math.min(1, ...times), 1.2 * Math.max(2, ...times)],
    nice: false,
  };
  const by = (what: GrowthPoint['by']): GrowthPoint[] =>
    points.filter((point) => point.by === what && point.microseconds > 0);
  return {
    hconcat: [
      panel(by('patients'), 'CPU time of a row, more patients', 'patients, an hour each', scale),
      panel(by('days'), 'CPU time of a row, longer stays', 'days of one patient', scale),
    ],
  };
}

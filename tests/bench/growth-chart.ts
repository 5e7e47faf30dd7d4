import type { Spec } from '../../src/report/charts/spec.js';

/** The time of a row at one size. */
export interface GrowthPoint {
  readonly n: number;
  readonly by: 'patients' | 'days';
  readonly microseconds: number;
}

const panel = (points: readonly GrowthPoint[], title: string, axis: string, highest: number): object => ({
  title: { text: title, fontSize: 12, anchor: 'start' },
  width: 300,
  height: 200,
  data: { values: points },
  mark: { type: 'line', point: true, color: '#0072B2' },
  encoding: {
    x: { field: 'n', type: 'quantitative', scale: { type: 'log' }, title: axis },
    y: {
      field: 'microseconds',
      type: 'quantitative',
      scale: { domain: [0, highest] },
      title: 'CPU time of a row (µs)',
    },
  },
});

/** Time of a row over patients and over days; a straight, level line is growth in proportion to the data. */
export function growthSpec(points: readonly GrowthPoint[]): Spec {
  const highest = 1.1 * Math.max(0, ...points.map(({ microseconds }) => microseconds));
  const by = (what: GrowthPoint['by']): GrowthPoint[] => points.filter((point) => point.by === what);
  return {
    hconcat: [
      panel(
        by('patients'),
        'Time of a row stays level as patients are added',
        'patients, an hour each',
        highest,
      ),
      panel(by('days'), 'and as a stay grows longer', 'days of one patient', highest),
    ],
  } as unknown as Spec;
}

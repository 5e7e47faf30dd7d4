import type { StudyMapResult } from '../results-study-map.js';
import type { Cell } from './csv.js';
import { flag, number, patients, prefixed, prefixedCells, whole, word } from './study-columns.js';
import type { TidyColumn, TidyTable } from './tidy-table.js';

const GUIZA = 'Guiza et al., Intensive Care Med 2015;41:1067-76';
const RHO = {
  definition:
    "Spearman's correlation over patients of their episodes with outcome, which is coded higher for better: under 0 more episodes go with a worse one.",
  source: GUIZA,
};
const STABLE = {
  definition:
    'Draws of patients, as wholes and with replacement, in which the correlation has the same sign.',
  source: 'Davison & Hinkley, Bootstrap Methods and their Application, 1997; 95 %: own convention',
};

const CORRELATION: readonly TidyColumn[] = [
  number('rho', 'correlation', '1', 'Blank where too few patients have such an episode', RHO),
  number('sameSignShare', 'share of draws with its sign', '1', 'Blank where there is no sign', STABLE),
  flag('isStable', 'stable', 'true where that share is large enough'),
];

const FORMS = [
  ['count', 'Number of episodes'],
  ['perDay', 'Episodes per monitored day'],
] as const;

const formCells = (
  name: string,
  { rho, sameSignShare, isStable }: StudyMapResult['count'],
  cell: number,
): Record<string, Cell> =>
  prefixedCells(name, CORRELATION, {
    rho: rho[cell],
    sameSignShare: sameSignShare[cell],
    isStable: isStable[cell],
  });

const INTENSITY = number('intensityMmHg', 'Intensity', 'mm[Hg]', 'Pressure that episodes lie past');

function mapTable(channel: 'icp' | 'cpp', maps: readonly StudyMapResult[]): TidyTable {
  const map = maps.find((one) => one.channel === channel);
  const name = channel.toUpperCase();
  return {
    name: `map-${channel}`,
    says: `A row a cell of the intensity-duration map of ${name}: episodes ${channel === 'icp' ? 'above' : 'below'} the intensity that last at least the duration, in the primary window`,
    key: ['intensityMmHg', 'durationMinutes'],
    columns: [
      INTENSITY,
      number('durationMinutes', 'Duration', 'min', 'Episodes last at least so long'),
      patients('patients', 'Patients', 'Whose sampling can show episodes this short'),
      patients('withEpisode', 'Patients with such an episode', 'Of them, those who have one'),
      ...FORMS.flatMap(([form, title]) => prefixed(form, title, CORRELATION)),
    ],
    rows: (map?.intensitiesMmHg ?? []).flatMap((intensityMmHg, k) =>
      (map?.durationsMinutes ?? []).map((durationMinutes, d, { length }) => {
        const cell = k * length + d;
        return {
          intensityMmHg,
          durationMinutes,
          patients: map?.cellPatients[cell],
          withEpisode: map?.withEpisode[cell],
          ...Object.assign({}, ...FORMS.map(([form]) => map && formCells(form, map[form], cell))),
        };
      }),
    ),
  };
}

const lineTable = (maps: readonly StudyMapResult[]): TidyTable => ({
  name: 'zero-lines',
  says: 'A row a duration at which the correlation of a map changes its sign along an intensity',
  key: ['channel', 'form', 'intensityMmHg', 'crossing'],
  columns: [
    word('channel', 'Channel', 'icp or cpp'),
    word('form', 'Form', 'count: number of episodes; perDay: episodes per monitored day'),
    INTENSITY,
    whole('crossing', 'Crossing', '1', 'From the shortest duration, the first one 1'),
    number('minutes', 'Duration', 'min', 'Where the sign changes', {
      definition: 'By a straight line between neighbouring cells of the map; not across a blank one.',
      source: `${GUIZA}; straight lines: own convention`,
    }),
  ],
  rows: maps.flatMap((map) =>
    FORMS.flatMap(([form]) =>
      map[form].zeroLine.flatMap(({ intensityMmHg, minutes }) =>
        minutes.map((one, i) => ({
          channel: map.channel,
          form,
          intensityMmHg,
          crossing: i + 1,
          minutes: one,
        })),
      ),
    ),
  ),
});

/** The intensity-duration maps, cell by cell, and their lines of no correlation. */
export const studyMapTables = (maps: readonly StudyMapResult[]): TidyTable[] => [
  mapTable('icp', maps),
  mapTable('cpp', maps),
  lineTable(maps),
];

import type { IntensityGrid } from '../../summarize/study/intensity-grid.js';
import {
  CPP_INTENSITIES_MMHG,
  DURATIONS_MINUTES,
  ICP_INTENSITIES_MMHG,
} from '../../summarize/study/intensity-grid.js';
import {
  type CellCorrelation,
  type IntensityMap,
  intensityMap,
  LEAST_WITH_EPISODE,
  type MapCell,
  STABLE_SHARE,
} from '../../summarize/study/intensity-map.js';
import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import { STUDY_SEED } from '../../summarize/study/study-settings.js';
import type { StudyMapResult } from '../results-study-map.js';
import { counted } from '../words.js';

type Channel = StudyMapResult['channel'];
type Form = 'count' | 'perDay';

const MAPS = [
  { channel: 'icp', side: 'above', intensitiesMmHg: ICP_INTENSITIES_MMHG },
  { channel: 'cpp', side: 'below', intensitiesMmHg: CPP_INTENSITIES_MMHG },
] as const;

const orNull = (figure: CellCorrelation['rho']): number | null =>
  typeof figure === 'number' ? figure : null;

function correlationResult({ cells, zeroLine }: IntensityMap, form: Form): StudyMapResult['count'] {
  return {
    rho: cells.map(({ [form]: { rho } }) => orNull(rho)),
    sameSignShare: cells.map(({ [form]: { sameSignShare } }) => orNull(sameSignShare)),
    isStable: cells.map(({ [form]: { isStable } }) => isStable),
    zeroLine: zeroLine.map(({ intensityMmHg, [`${form}Minutes` as const]: minutes }) => ({
      intensityMmHg,
      minutes: [...minutes],
    })),
  };
}

/** Why no cell of a map has a correlation; null where one has. */
function whyBlank(channel: Channel, outcomes: readonly number[], cells: readonly MapCell[]): string | null {
  if (cells.some(({ perDay, count }) => typeof perDay.rho === 'number' || typeof count.rho === 'number')) {
    return null;
  }
  const name = channel.toUpperCase();
  const patients = outcomes.length;
  if (patients === 0) return `no patient with an outcome has ${name} in the primary window`;
  if (patients < LEAST_WITH_EPISODE) {
    return `${counted(patients, 'patient has', 'patients have')} an outcome and ${name} in the primary window, and a correlation needs ${LEAST_WITH_EPISODE}`;
  }
  if (outcomes.every((code) => code === outcomes[0])) return 'all patients have the same outcome';
  const fullest = cells.reduce((best, cell) => (cell.withEpisode > best.withEpisode ? cell : best));
  if (fullest.withEpisode < LEAST_WITH_EPISODE) {
    return `no cell has ${LEAST_WITH_EPISODE} patients with such an episode, and the most is ${fullest.withEpisode}`;
  }
  const { rho } = fullest.perDay;
  return typeof rho === 'number' ? null : rho.reason;
}

/** The map of one channel, of the patients of the main analysis who have it in the primary window. */
function mapOf(
  { groups, memberOf, settings }: StudyCohort,
  { channel, side, intensitiesMmHg }: (typeof MAPS)[number],
): StudyMapResult {
  const grid: IntensityGrid = { intensitiesMmHg, durationsMinutes: DURATIONS_MINUTES };
  const patients = groups.coded.flatMap(({ patient, code }) => {
    const found = memberOf.get(patient.id)?.study?.grids[channel] ?? null;
    return found === null ? [] : [{ ...found, outcome: code }];
  });
  const map = intensityMap(grid, patients, { resamples: settings.resamples, seed: STUDY_SEED });
  const reason = whyBlank(
    channel,
    patients.map(({ outcome }) => outcome),
    map.cells,
  );
  return {
    channel,
    side,
    patients: patients.length,
    withoutChannel: groups.coded.length - patients.length,
    intensitiesMmHg: [...map.intensitiesMmHg],
    durationsMinutes: [...map.durationsMinutes],
    cellPatients: map.cells.map((cell) => cell.patients),
    withEpisode: map.cells.map(({ withEpisode }) => withEpisode),
    count: correlationResult(map, 'count'),
    perDay: correlationResult(map, 'perDay'),
    resamples: map.resamples,
    leastWithEpisode: LEAST_WITH_EPISODE,
    stableShare: STABLE_SHARE,
    ...(reason === null ? {} : { reason }),
  };
}

/** The intensity-duration maps of a cohort: ICP above each intensity, then CPP below it. */
export const mapsResult = (cohort: StudyCohort): StudyMapResult[] => MAPS.map((one) => mapOf(cohort, one));

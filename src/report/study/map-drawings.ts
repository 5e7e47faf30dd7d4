import type { Draw } from '../charts/spec.js';
import { CORRELATION_STEPS, patientSteps } from '../charts/study-colours.js';
import { type StudyMap, studyMapSpec } from '../charts/study-map.js';
import type { StudyMapResult } from '../results-study-map.js';

/** The drawings of one map as SVG. */
export interface MapDrawing {
  /** The correlation of episodes per monitored day, and of their number. */
  readonly perDay: string;
  readonly count: string;
  /** How many patients have such an episode. */
  readonly patients: string;
}

/** By channel; null where there is nothing to draw. */
export type MapDrawings = Readonly<Record<StudyMapResult['channel'], MapDrawing | null>>;

const frame = ({ channel, side, intensitiesMmHg, durationsMinutes }: StudyMapResult) => ({
  channel,
  side,
  intensitiesMmHg,
  durationsMinutes,
});

/** The map of correlations: in colour by sign and strength, stable cells with a dot. */
export const correlationMap = (map: StudyMapResult, form: 'perDay' | 'count'): StudyMap => ({
  ...frame(map),
  values: map[form].rho,
  steps: CORRELATION_STEPS,
  dotted: map[form].isStable,
  hasSignLine: true,
});

/** The map of how many patients are behind each cell, blank where they are too few. */
export const patientsMap = (map: StudyMapResult): StudyMap => ({
  ...frame(map),
  values: map.withEpisode.map((patients) => (patients < map.leastWithEpisode ? null : patients)),
  steps: patientSteps(map.leastWithEpisode),
});

/** Draws the maps of all channels that have one. */
export async function drawMaps(maps: readonly StudyMapResult[], draw: Draw): Promise<MapDrawings> {
  const drawn: Record<StudyMapResult['channel'], MapDrawing | null> = { icp: null, cpp: null };
  for (const map of maps) {
    if (map.reason !== undefined) continue;
    const key = `map-${map.channel}`;
    drawn[map.channel] = {
      perDay: await draw(studyMapSpec(correlationMap(map, 'perDay'), 'large'), `${key}-day`),
      count: await draw(studyMapSpec(correlationMap(map, 'count'), 'small'), `${key}-count`),
      patients: await draw(studyMapSpec(patientsMap(map), 'small'), `${key}-patients`),
    };
  }
  return drawn;
}

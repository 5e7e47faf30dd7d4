import { personOf } from '../../fixtures/generator/study/person.js';
import { studyStream } from '../../fixtures/generator/study/stream.js';
import {
  type OutcomeGroups,
  outcomeGroups,
  USUAL_CUTS,
} from '../../src/summarize/study/analysis/outcome-groups.js';
import type { StudyPatient } from '../../src/summarize/study/analysis/study-patient.js';

/** The features that a drawn patient has. The first is what outcome may hang on; none of the others does by itself. */
export const DRAWN = {
  burden: 'icpDosePerHourAbove22MmHg',
  like: 'icpMeanMmHg',
  loosely: 'icpEpisodesPerDay',
  apart: 'prxMean',
} as const;

/** Whom to draw. */
export interface Drawn {
  readonly patients: number;
  readonly seed: number;
  readonly logOddsPerMmHg: number;
  readonly confounding: number;
}

/** The patients of a cohort with their true burden, without any signal: cheap enough for thousands of cohorts. */
export function drawnPatients({ patients, ...style }: Drawn): StudyPatient[] {
  return Array.from({ length: patients }, (_, place): StudyPatient => {
    const { burdenMmHg, gose, ...person } = personOf(style, place);
    const stream = studyStream(style.seed, place, 'course');
    return {
      id: String(place),
      features: {
        [DRAWN.burden]: burdenMmHg,
        [DRAWN.like]: 10 + 1.2 * burdenMmHg + 1.5 * stream.bell(),
        [DRAWN.loosely]: burdenMmHg + 1.5 * stream.between(0, 2),
        [DRAWN.apart]: stream.between(-0.3, 0.5),
      },
      windowEndsBy: 'length',
      ...person,
      therapyIntensity: null,
      hadCraniectomy: null,
      isWithdrawn: null,
      hasDied: gose === 1,
      outcome: { scale: 'gose', value: gose },
    };
  });
}

/** The same by outcome. */
export const drawnGroups = (drawn: Drawn): OutcomeGroups =>
  outcomeGroups(drawnPatients(drawn), USUAL_CUTS.gose);

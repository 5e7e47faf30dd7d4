import type { CohortRow } from '../../ingest/tables/cohort.js';
import type { OutcomeScale } from '../../ingest/tables/outcome.js';
import type { EpisodeRule } from '../../segment/episodes.js';
import { usualAdjusters } from './analysis/adjusted-odds.js';
import {
  codeOn,
  type OutcomeCut,
  type OutcomeGroups,
  outcomeGroups,
  USUAL_CUTS,
} from './analysis/outcome-groups.js';
import { type Adjuster, type StudyPatient, studyPatient } from './analysis/study-patient.js';
import type { FeatureRow } from './feature-rows.js';
import type { PatientStudy } from './patient-study.js';
import { type StudyFlow, studyFlow } from './study-flow.js';
import type { StudySettings } from './study-settings.js';
import { type OutcomeTiming, timedOutcome } from './timed-outcome.js';

/** A patient of the table or of the exports, each once. */
export interface StudyMember {
  readonly id: string;
  /** Null where the table has none. */
  readonly row: CohortRow | null;
  readonly exports: 'none' | 'failed' | 'read';
  /** Null where there are no exports, they could not be read, or hold no ICP. */
  readonly study: PatientStudy | null;
}

/** What a study is made of. */
export interface UnitStudyInput {
  /** In the order of the report. */
  readonly members: readonly StudyMember[];
  readonly settings: StudySettings;
  readonly icpEpisodes: EpisodeRule;
  /** Rows of the table that could not be used. */
  readonly rowsSetAside: number;
}

/** The patients of a study by what is known of them. */
export interface StudyCohort extends UnitStudyInput {
  readonly cut: OutcomeCut;
  readonly flow: StudyFlow;
  /** By patient of the table. */
  readonly timings: ReadonlyMap<string, OutcomeTiming>;
  /**
   * Who reached the outcome: those of the main analysis, and those who were monitored for long enough and have no outcome.
   * Features are those of the primary window.
   */
  readonly patients: readonly StudyPatient[];
  readonly groups: OutcomeGroups;
  readonly adjusters: readonly Adjuster[];
  readonly memberOf: ReadonlyMap<string, StudyMember>;
}

const SCALES: readonly OutcomeScale[] = ['gose', 'gos', 'mortality'];

/** The scale that most outcomes of the table are on. */
function scaleOf(members: readonly StudyMember[]): OutcomeScale {
  const count = (scale: OutcomeScale): number =>
    members.filter(({ row }) => row?.outcome?.scale === scale).length;
  return SCALES.reduce((best, scale) => (count(scale) > count(best) ? scale : best));
}

/** The features of a patient over one window; null where there is no such window. */
export const rowOver = (study: PatientStudy | null, kind: 'primary' | 'stay'): FeatureRow | null =>
  study?.rows.find((row) => row.kind === kind) ?? null;

/** A patient of the table for an analysis over one window; null where there is no such window. */
export function patientOver(
  { row, study }: StudyMember,
  kind: 'primary' | 'stay',
  settings: StudySettings,
): StudyPatient | null {
  const found = rowOver(study, kind)?.window;
  if (!row || !found || 'reason' in found) return null;
  const { outcome } = timedOutcome(row, settings.outcome);
  return studyPatient({ ...row, outcome }, found.features, found.endsBy);
}

/**
 * Sorts the patients of a study: who is in, who is out and why, and what is known of those who are in.
 *
 * @throws RangeError where the settings cut the scale of the table outside of its levels
 */
export function studyCohort(input: UnitStudyInput): StudyCohort {
  const { members, settings } = input;
  const scale = settings.outcome.scale ?? scaleOf(members);
  const cut = { scale, favourableFrom: settings.outcome.favourableFrom ?? USUAL_CUTS[scale].favourableFrom };
  const timed = new Map(
    members.flatMap(({ id, row }) => (row ? [[id, timedOutcome(row, settings.outcome)] as const] : [])),
  );
  const flow = studyFlow(
    members.map(({ id, row, exports, study }) => {
      const outcome = timed.get(id)?.outcome ?? null;
      return {
        id,
        isInTable: row !== null,
        hasExports: exports !== 'none',
        isRead: exports !== 'failed',
        hasIcp: study !== null,
        monitoredHours: study?.primaryIcpHours ?? 0,
        hasOutcome: outcome !== null && codeOn(scale, outcome) !== null,
        isWithdrawn: row?.withdrawn?.happened ?? null,
      };
    }),
    settings,
  );
  const reached = members.filter(({ id }) => {
    const lack = flow.stoppedAt.get(id);
    return lack === null || lack === 'withdrawn' || lack === 'noOutcome';
  });
  const patients = reached.flatMap((member) => patientOver(member, 'primary', settings) ?? []);
  return {
    ...input,
    cut,
    flow,
    timings: new Map([...timed].map(([id, { timing }]) => [id, timing])),
    patients,
    groups: outcomeGroups(patients, cut),
    adjusters: settings.adjusters ?? usualAdjusters(patients),
    memberOf: new Map(members.map((member) => [member.id, member])),
  };
}

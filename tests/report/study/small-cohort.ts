import type { JSX } from 'preact';
import { renderToStaticMarkup } from 'preact-render-to-string';
import type { CohortRow } from '../../../src/ingest/tables/cohort.js';
import { settingsOf } from '../../../src/pipeline/settings.js';
import { type StudyFileSettings, studyOf } from '../../../src/pipeline/study-schema.js';
import type { BurdenFeatures } from '../../../src/summarize/study/burden-features.js';
import type { FeatureRow, FeatureWindow } from '../../../src/summarize/study/feature-rows.js';
import {
  type StudyCohort,
  type StudyMember,
  studyCohort,
} from '../../../src/summarize/study/study-cohort.js';
import { cohortRow } from '../../support/invented-study.js';

/** A patient in few words; what is not said is usual: 72 h of ICP, and a row of which nothing else is known. */
export interface Given {
  readonly id: string;
  readonly row?: Partial<CohortRow> | null;
  readonly exports?: StudyMember['exports'];
  readonly hasIcp?: boolean;
  readonly hours?: number;
  readonly endsBy?: FeatureWindow['endsBy'];
  readonly features?: BurdenFeatures;
  /** By day since injury, or why there are none. */
  readonly days?: Readonly<Record<number, BurdenFeatures>> | string;
  readonly remarks?: readonly string[];
}

export const gose = (value: number): Partial<CohortRow> => ({ outcome: { scale: 'gose', value } });

function rowsOf({ id, hours = 72, endsBy = 'length', features = {}, days = {} }: Given): FeatureRow[] {
  const window = (of: BurdenFeatures): FeatureWindow => ({
    startHours: 0,
    endHours: hours,
    endsBy,
    features: of,
  });
  const whole = window({ icpMonitoredHours: hours, ...features });
  const row = (kind: FeatureRow['kind'], day: number | null, of: FeatureRow['window']): FeatureRow => ({
    patient: id,
    kind,
    day,
    window: of,
  });
  return [
    row('primary', null, whole),
    row('stay', null, whole),
    ...(typeof days === 'string'
      ? [row('day', null, { reason: days })]
      : Object.entries(days).map(([day, of]) => row('day', Number(day), window(of)))),
  ];
}

/** A member of a study as it would come of the pipeline. */
export function memberOf(given: Given): StudyMember {
  const { id, row = {}, exports = 'read', hasIcp = true, hours = 72, remarks = [] } = given;
  const isRead = exports === 'read' && hasIcp;
  return {
    id,
    row: row && cohortRow({ ...row, id }),
    exports,
    study: isRead
      ? {
          id,
          rows: rowsOf(given),
          grids: { icp: null, cpp: null },
          primaryIcpHours: hours,
          startMs: 0,
          remarks,
        }
      : null,
  };
}

/** A study of a few patients whose figures can be counted by hand. */
export function smallStudy(
  given: readonly Given[],
  study: StudyFileSettings = {},
  rowsSetAside = 0,
): StudyCohort {
  const { summarize } = settingsOf(
    { exports: 'exports', cohort: 'cohort.csv', report: 'study', study },
    'study',
  );
  return studyCohort({
    members: given.map(memberOf),
    settings: studyOf(study, summarize),
    icpEpisodes: summarize.icpEpisodes,
    rowsSetAside,
  });
}

/** What a reader reads. */
export const textOf = (element: JSX.Element): string =>
  renderToStaticMarkup(element)
    .replace(/<svg.*?<\/svg>/gs, ' ')
    .replace(/<[^>]*>/g, ' ')
    .replaceAll('&amp;', '&')
    .replace(/\s+/g, ' ')
    .replace(/ ([,.;:)])/g, '$1')
    .trim();

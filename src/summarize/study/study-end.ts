import type { CohortRow } from '../../ingest/tables/cohort.js';

/** What ends the time that counts in a study. */
export interface StudyEnd {
  readonly kind: 'withdrawn' | 'brainDeath' | 'death' | 'monitoringTo' | 'data';
  /** Milliseconds UTC. */
  readonly at: number;
  /** What a reader has to know of it; null where nothing. */
  readonly remark: string | null;
}

/** What stops the windows of a study, as the beginning of a sentence. */
export const END_WORDS: Readonly<Record<StudyEnd['kind'], string>> = {
  withdrawn: 'treatment was withdrawn',
  brainDeath: 'brain death was declared',
  death: 'the patient died',
  monitoringTo: 'monitoring ended',
  data: 'the exports end',
};

const TURNS = ['withdrawn', 'brainDeath', 'death'] as const;
type TurnsRow = Pick<CohortRow, (typeof TURNS)[number] | 'monitoringTo'>;

/**
 * The earliest end: withdrawal of treatment, brain death, death, the end of monitoring, the end of the data. A withdrawal or
 * a death with a date alone stops at the start of that day, since any later hour of it may lie behind; an end of monitoring
 * with a date alone at the end of that day, since the exports say themselves when ICP stops.
 */
export function earliestEnd(dataEnd: number, row: TurnsRow | null): StudyEnd {
  const ends: StudyEnd[] = [];
  for (const kind of TURNS) {
    const moment = row?.[kind]?.at;
    if (!moment) continue;
    const remark = moment.isDay
      ? `${END_WORDS[kind]} on a day of which no time is given: nothing of that day counts`
      : null;
    ends.push({ kind, at: moment.utcMs, remark });
  }
  if (row?.monitoringTo) ends.push({ kind: 'monitoringTo', at: row.monitoringTo.endUtcMs, remark: null });
  ends.push({ kind: 'data', at: dataEnd, remark: null });
  return ends.reduce((first, one) => (one.at < first.at ? one : first));
}

/** What happened without a time, so that nothing could stop there. */
export const undated = (row: TurnsRow): string[] =>
  TURNS.filter((kind) => row[kind]?.happened && !row[kind].at).map(
    (kind) => `${END_WORDS[kind]} at a time that the table does not give: nothing could be cut`,
  );

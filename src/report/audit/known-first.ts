import type { AuditResult } from '../results-audit.js';
import type { UnitResults } from '../results-schema.js';
import { counted, days } from '../words.js';

/** With fewer patients intervals cannot be given. */
const LEAST_PATIENTS = 10;

/** That the times of a log were moved; null where they were not. */
function movedWords(log: string, seconds: number): string | null {
  if (seconds === 0) return null;
  const way = seconds > 0 ? 'later' : 'earlier';
  return `The times of the ${log} were moved to ${counted(Math.abs(seconds), 'second')} ${way}, as the pipeline file says.`;
}

/** That the log may not have been exported whole; null where nothing speaks for it. */
function holeWords(holes: AuditResult['logHoles']): string | null {
  if (holes.length === 0) return null;
  const [first] = [...holes].sort((a, b) => b.days - a.days);
  const more =
    holes.length === 1 ? '' : `, and in ${counted(holes.length - 1, 'more stretch', 'more stretches')}`;
  return `The alarm log has no row for ${counted(first.days, 'monitored day')} in a row (${days(first.start, first.end)}${more}). If it was not exported for them, rates are too low and episodes seem untold: choose a period without them.`;
}

/** What has to be known before the figures of an audit are read, in sentences. */
export function auditKnownFirst(results: UnitResults, audit: AuditResult): string[] {
  const { clock } = audit.alarms;
  const patients = results.unit.order.length;
  const isApart = clock.is === 'apart' || clock.is === 'hours' || clock.is === 'two';
  return [
    results.cleaningNote,
    results.unit.levellingNote,
    ...audit.missing,
    movedWords('alarm log', audit.movedSeconds.alarms),
    movedWords('care log', audit.movedSeconds.care),
    isApart ? `${clock.sentence} ${clock.correction}` : null,
    holeWords(audit.logHoles),
    patients < LEAST_PATIENTS
      ? `${audit.maskBelow !== null && patients < audit.maskBelow ? 'A few patients' : counted(patients, 'patient')} only: figures have no intervals, since these are over patients and need ${LEAST_PATIENTS}.`
      : null,
    audit.notRead === 0
      ? null
      : `${counted(audit.notRead, 'patient')} could not be read and ${audit.notRead === 1 ? 'is' : 'are'} not in any figure: tables/setaside.csv says why.`,
    audit.maskBelow === null
      ? null
      : `Counts from 1 to ${audit.maskBelow - 1} are not shown, nor what would give them away, nor lists of single alarms, episodes and patients.`,
  ].filter((text) => text !== null && text !== '') as string[];
}

import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import type { OutcomeTiming } from '../../summarize/study/timed-outcome.js';
import type { StudyOutcomeResult } from '../results-study-cohort.js';

/** Which outcome was asked about, when it was assessed, and who has which level. */
export function outcomeResult({ groups, settings, timings }: StudyCohort): StudyOutcomeResult {
  const { scale, months, withinMonths } = settings.outcome;
  const having = (wanted: OutcomeTiming): number =>
    [...timings.values()].filter((timing) => timing === wanted).length;
  return {
    scale: groups.scale,
    scaleIsOfTable: scale === null,
    favourableFrom: groups.favourableFrom,
    words: groups.words,
    cutSource: groups.source,
    months,
    withinMonths,
    assessed: { inTime: having('inTime'), otherTime: having('otherTime'), unknown: having('unknown') },
    levels: groups.levels.map((level) => ({ ...level })),
    counts: groups.counts,
    onAnotherScale: groups.onAnotherScale,
  };
}

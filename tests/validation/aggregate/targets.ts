/** The targets that were set before any rule was tuned, and what was measured. */
import { isTrivial, type KindSummary } from './kinds.js';
import type { SamplingSummary } from './summary.js';

export interface Verdict {
  readonly says: string;
  readonly samplingSeconds: number;
  /** As numbers stand in results.json: shares from 0 to 1, mmHg, counts. */
  readonly target: number;
  /** Null where there was nothing to measure. */
  readonly measured: number | null;
  readonly unit: 'share' | 'mmHg' | 'episodes' | 'kinds';
  /** Whether more is better. */
  readonly atLeast: boolean;
  readonly met: boolean | null;
}

export const LEAST_EVENTS = 0.9;

/** Share of the events of a kind that are marked: as removed, or either way where the truth is only suspect. */
export const eventShare = ({
  grade,
  eventsRemoved,
  eventsEither,
  eventsHolding,
}: KindSummary): number | null =>
  eventsHolding === 0 ? null : (grade === 'suspect' ? eventsEither : eventsRemoved) / eventsHolding;

/** The same of its seconds. */
export const secondShare = ({
  grade,
  secondsRemoved,
  secondsSuspect,
  seconds,
}: KindSummary): number | null =>
  seconds === 0 ? null : (secondsRemoved + (grade === 'suspect' ? secondsSuspect : 0)) / seconds;

/** True where enough events of a kind are marked. */
export const isFound = (kind: KindSummary): boolean => (eventShare(kind) ?? 1) >= LEAST_EVENTS;

/** True seconds that were marked, suspect ones included, as a share. */
export const lostShare = ({ seconds, secondsRemoved, secondsSuspect }: KindSummary): number | null =>
  seconds === 0 ? null : (secondsRemoved + secondsSuspect) / seconds;

/** Of one sampling. */
function verdictsOf(summary: SamplingSummary): Verdict[] {
  const samplingSeconds = summary.samplingSeconds ?? 0;
  const verdict = (
    says: string,
    unit: Verdict['unit'],
    target: number,
    measured: number | null,
    atLeast = false,
  ): Verdict => {
    const met = measured === null ? null : atLeast ? measured >= target : measured <= target;
    return { says, samplingSeconds, target, measured, unit, atLeast, met };
  };
  const { dose, episodes, removable, removableBrief, kinds } = summary;
  const brief = 'the same without frozen values and open drains';
  const judged = kinds.filter((kind) => !isTrivial(kind) && kind.eventsHolding > 0);
  const found = judged.filter(isFound).length;
  const taken: Partial<Record<number, Verdict[]>> = {
    1: [
      verdict('kinds of which 90 % of the events are marked', 'kinds', judged.length, found, true),
      verdict('seconds of artifacts removed', 'share', 0.95, secondShare(removable), true),
      verdict(brief, 'share', 0.95, secondShare(removableBrief), true),
    ],
    15: [
      verdict(
        'seconds removed, of artifacts that hold a sample',
        'share',
        0.85,
        secondShare(removable),
        true,
      ),
      verdict(brief, 'share', 0.85, secondShare(removableBrief), true),
    ],
  };
  const perHundredDays = (count: number): number => (100 * count) / episodes.patientDays;
  return [
    ...(taken[samplingSeconds] ?? []),
    verdict('seconds of true hypertension marked', 'share', 0.005, lostShare(summary.high)),
    verdict(
      'error of dose an hour where the dose is 1 mmHg·h or more, median',
      'share',
      0.02,
      dose.high.cleaned.median,
    ),
    verdict('the same, 90th percentile', 'share', 0.1, dose.high.cleaned.p90),
    verdict('error of dose an hour where the dose is less, largest', 'mmHg', 0.02, dose.low.cleaned.max),
    verdict('episodes missed that are 6 min or more and 2 mmHg or more over', 'episodes', 0, episodes.missed),
    verdict(
      'invented episodes per 100 patient-days, hatched ones included',
      'episodes',
      1,
      perHundredDays(episodes.invented + episodes.inventedHatched),
    ),
    verdict(
      'the same without those that are hatched as suspect',
      'episodes',
      1,
      perHundredDays(episodes.invented),
    ),
  ];
}

/** All targets at all samplings for which one was set. */
export const verdicts = (summaries: readonly SamplingSummary[]): Verdict[] =>
  summaries.filter(({ samplingSeconds }) => samplingSeconds !== null).flatMap(verdictsOf);

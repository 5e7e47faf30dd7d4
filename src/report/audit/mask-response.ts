import type { AuditResponse, ClockResult, CurveResult, PeriodResult } from '../results-audit-response.js';
import { differenceWords } from './difference-words.js';
import { hiddenParts, isHidden, MASKED, maskedEstimate, withoutNumbers } from './mask.js';

const OUTCOMES = ['happened', 'resolvedFirst', 'diedFirst', 'cutOff'] as const;

/** A masked curve has points so far apart or further, minutes. */
const COARSE_MINUTES = 5;

/** Hides counts from 1 to under `below` and all that rests on them, also where a sum would tell them. */
export const maskResponse = (part: AuditResponse, below: number): AuditResponse => ({
  ...part,
  maskedBelow: below,
  clocks: part.clocks.map((clock) => maskClock(clock, below)),
});

function maskClock(clock: ClockResult, below: number): ClockResult {
  const hidden = hiddenPeriods(clock.periods, below);
  // The parts of a whole that is shown tell each other: where one hides anything, all of them hide all.
  for (const kinds of SPLITS) {
    const own = clock.periods.flatMap(({ kind }, i) => (kinds.includes(kind) ? [i] : []));
    if (own.some((i) => hidden[i] || hidesAny(clock.periods[i], below)))
      for (const i of own) hidden[i] = true;
  }
  const periods = clock.periods.map((period, i) =>
    hidden[i] ? maskWhole(period) : maskPeriod(period, below),
  );
  const { difference, curve } = clock;
  // A difference tells the share of one side from that of the other.
  const isSideHidden = periods.some(
    ({ kind, shares }) =>
      (kind === 'before' || kind === 'after') &&
      shares.some(({ minutes, share }) => minutes === difference?.minutes && share.reason === MASKED),
  );
  const shown = (n: number | null): number | null => (isHidden(n, below) ? null : n);
  const isDifferenceHidden =
    isSideHidden ||
    isHidden(difference?.patientsBefore ?? 0, below) ||
    isHidden(difference?.patientsAfter ?? 0, below);
  return {
    ...clock,
    // The other clocks have the rest of the same episodes.
    notCovered: null,
    periods,
    difference: difference === null ? null : maskDifference(difference, isDifferenceHidden, shown),
    curve: curve === null ? null : maskCurve(curve, below),
  };
}

function maskDifference(
  one: NonNullable<ClockResult['difference']>,
  isWholeHidden: boolean,
  shown: (n: number | null) => number | null,
): NonNullable<ClockResult['difference']> {
  const difference = isWholeHidden ? maskedEstimate : withoutNumbers(one.difference);
  return {
    minutes: one.minutes,
    patientsBefore: shown(one.patientsBefore),
    patientsAfter: shown(one.patientsAfter),
    patients: shown(one.patients),
    difference,
    says: differenceWords(difference, one.minutes),
  };
}

/** Before and after, night and day, and all months each make the whole. */
const SPLITS: readonly (readonly PeriodResult['kind'][])[] = [
  ['before', 'after'],
  ['night', 'day'],
  ['month'],
];

/** True where something of a period has to be hidden. */
function hidesAny(period: PeriodResult, below: number): boolean {
  const masked = maskPeriod(period, below);
  return (
    OUTCOMES.some((outcome) => masked[outcome] === null) ||
    masked.patients === null ||
    masked.shares.some(({ share }) => share.reason === MASKED)
  );
}

function hiddenPeriods(periods: readonly PeriodResult[], below: number): boolean[] {
  const hidden = periods.map(({ episodes }) => isHidden(episodes, below));
  for (const kinds of SPLITS) {
    const own = periods.flatMap(({ kind }, i) => (kinds.includes(kind) ? [i] : []));
    const parts = hiddenParts(
      own.map((i) => periods[i].episodes),
      below,
    );
    own.forEach((i, k) => {
      hidden[i] = parts[k];
    });
  }
  return hidden;
}

const maskWhole = (period: PeriodResult): PeriodResult => ({
  ...period,
  patients: null,
  episodes: null,
  happened: null,
  resolvedFirst: null,
  diedFirst: null,
  cutOff: null,
  withoutAlarm: null,
  medianMinutes: maskedEstimate,
  shares: period.shares.map((share) => ({
    ...share,
    happened: null,
    share: maskedEstimate,
    naive: maskedEstimate,
  })),
});

function maskPeriod(period: PeriodResult, below: number): PeriodResult {
  const hidden = hiddenParts(
    OUTCOMES.map((outcome) => period[outcome]),
    below,
  );
  const outcomes = Object.fromEntries(OUTCOMES.map((name, i) => [name, hidden[i] ? null : period[name]]));
  const few = (n: number | null): boolean => isHidden(n, below);
  const { episodes } = period;
  return {
    ...period,
    ...outcomes,
    patients: few(period.patients) ? null : period.patients,
    // The list of notices has the same episodes in another cut.
    withoutAlarm: null,
    medianMinutes: hidden[0] ? maskedEstimate : withoutNumbers(period.medianMinutes),
    shares: period.shares.map((share) => {
      // Of a share also how many it did not happen to can be read.
      const rest = episodes === null || share.happened === null ? null : episodes - share.happened;
      return few(share.happened) || few(rest)
        ? { ...share, happened: null, share: maskedEstimate, naive: maskedEstimate }
        : { ...share, share: withoutNumbers(share.share), naive: withoutNumbers(share.naive) };
    }),
  };
}

/** What of a curve had ended in another way than the one that is waited for. */
const otherwise = ({ resolvedFirst, diedFirst, cutOff }: CurveResult['points'][number]): number =>
  (resolvedFirst ?? 0) + (diedFirst ?? 0) + (cutOff ?? 0);

/**
 * Points every 5 min of what is waited for alone, and only where enough came since the last one, or nothing did, and enough
 * are left. Who is still waited for stands only where that does not tell how many ended in another way.
 */
function maskCurve({ points, knownMinutes, atRisk }: CurveResult, below: number): CurveResult {
  const whole = atRisk[0]?.episodes ?? 0;
  const kept: CurveResult['points'] = [];
  for (let minutes = 0; minutes <= knownMinutes && !isHidden(whole, below); minutes += COARSE_MINUTES) {
    const now = points.findLast((point) => point.minutes <= minutes);
    if (now === undefined) break;
    const came = now.happened - (kept.at(-1)?.happened ?? 0);
    if ([came, whole - now.happened].some((n) => isHidden(n, below))) continue;
    const { happened, happenedShare } = now;
    const nothing = {
      resolvedFirstShare: null,
      diedFirstShare: null,
      resolvedFirst: null,
      diedFirst: null,
      cutOff: null,
    };
    kept.push({ minutes, happened, happenedShare, ...nothing });
  }
  let told = 0;
  return {
    isCoarse: true,
    knownMinutes: kept.at(-1)?.minutes ?? 0,
    points: kept,
    atRisk: atRisk.flatMap(({ minutes, episodes, patients }) => {
      const before = points.findLast((point) => point.minutes < minutes);
      const ended = before === undefined ? 0 : otherwise(before);
      if ([ended - told, episodes].some((n) => isHidden(n, below))) return [];
      told = ended;
      return [{ minutes, episodes, patients: isHidden(patients, below) ? null : patients }];
    }),
  };
}

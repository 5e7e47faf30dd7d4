import { RESAMPLES, type UnitAuditInput } from '../../summarize/alarms/audit-settings.js';
import type { ResponseDifference } from '../../summarize/alarms/response-difference.js';
import {
  type ClockResponse,
  type PeriodResponse,
  unitResponse,
} from '../../summarize/alarms/unit-response.js';
import type { AuditResponse, ClockResult, PeriodResult } from '../results-audit-response.js';
import { estimateResult } from '../results-estimate.js';
import { differenceWords } from './difference-words.js';

const clockOf = (minutes: number): string =>
  `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;

/** Responses of a unit as they go out. */
export function responseResult(
  input: UnitAuditInput,
  responses: readonly ClockResponse[] = unitResponse(input),
): AuditResponse {
  const { clock, settings, night } = input;
  const periodOf = ({ span, medianMinutes, shares, ...counts }: PeriodResponse): PeriodResult => ({
    ...counts,
    start: clock.format(span.start),
    end: clock.format(span.end),
    medianMinutes: estimateResult(medianMinutes),
    shares: shares.map(({ share, naive, ...rest }) => ({
      ...rest,
      share: estimateResult(share),
      naive: estimateResult(naive),
    })),
  });
  return {
    maskedBelow: null,
    resamples: RESAMPLES,
    clocks: responses.map(
      ({ channel, clock: name, reason, notCovered, periods, difference, curve }): ClockResult => ({
        channel,
        clock: name,
        reason,
        notCovered,
        periods: periods.map(periodOf),
        difference: difference === null ? null : differenceResult(difference),
        curve:
          curve === null
            ? null
            : { isCoarse: false, ...curve, points: [...curve.points], atRisk: [...curve.atRisk] },
      }),
    ),
    changed:
      settings.changed === null
        ? null
        : { at: clock.format(settings.changed.atMs), what: settings.changed.what },
    nightFrom: clockOf(night.fromMinutes),
    nightTo: clockOf(night.toMinutes),
  };
}

function differenceResult({
  minutes,
  patientsBefore,
  patientsAfter,
  patients,
  ...figure
}: ResponseDifference): NonNullable<ClockResult['difference']> {
  const difference = estimateResult(figure);
  return {
    minutes,
    patientsBefore,
    patientsAfter,
    patients,
    difference,
    says: differenceWords(difference, minutes),
  };
}

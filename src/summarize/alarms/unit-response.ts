import type { Interval } from '../../recording/interval.js';
import { Resampler } from '../statistics/resampler.js';
import { RESAMPLES, SEED, type UnitAuditInput } from './audit-settings.js';
import { AUDIT_CHANNELS, type AuditChannel } from './patient-audit.js';
import { type ResponseCurve, responseCurve } from './response-curve.js';
import { type ResponseDifference, responseDifference } from './response-difference.js';
import { type ResponseFigures, responseFigures } from './response-figures.js';
import { type PeriodKind, type ResponsePeriod, responsePeriods } from './response-periods.js';
import { CLOCKS, type ClockTimes, clockTimes, type ResponseClock } from './response-times.js';

/** The figures of one part of the time. */
export interface PeriodResponse extends ResponseFigures {
  readonly kind: PeriodKind;
  readonly span: Interval;
}

/** How fast one thing came in the sustained episodes of one channel. */
export interface ClockResponse {
  readonly channel: AuditChannel;
  readonly clock: ResponseClock;
  /** Why nothing can be told; null where something can. */
  readonly reason: string | null;
  /** Episodes that the log of this clock does not reach. */
  readonly notCovered: number;
  /** None where a reason stands. */
  readonly periods: readonly PeriodResponse[];
  /** Null where no change is marked, or a reason stands. */
  readonly difference: ResponseDifference | null;
  readonly curve: ResponseCurve | null;
}

/** From the first data of the patients to the last; null where there are no patients. */
function extentOf({ patients }: UnitAuditInput): Interval | null {
  if (patients.length === 0) return null;
  return {
    start: patients.reduce((least, { extent }) => Math.min(least, extent.start), Number.POSITIVE_INFINITY),
    end: patients.reduce((most, { extent }) => Math.max(most, extent.end), Number.NEGATIVE_INFINITY),
  };
}

/** How fast sustained episodes were acknowledged, treated and over, by channel and by parts of the time. */
export function unitResponse(
  input: UnitAuditInput,
  resampler = new Resampler(RESAMPLES, SEED),
): ClockResponse[] {
  const extent = extentOf(input);
  const { settings, night, clock } = input;
  const changedMs = settings.changed?.atMs ?? null;
  const periods = extent === null ? [] : responsePeriods(extent, changedMs, night, clock);
  return AUDIT_CHANNELS.flatMap((channel) =>
    CLOCKS.map((name) => {
      const found = clockTimes(input, channel, name);
      const reason = found.reason ?? (extent === null ? 'there are no patients' : null);
      return { channel, clock: name, ...figuresOf({ ...found, reason }, periods, resampler) };
    }),
  );
}

function figuresOf(
  { times, notCovered, reason }: ClockTimes,
  periods: readonly ResponsePeriod[],
  resampler: Resampler,
): Omit<ClockResponse, 'channel' | 'clock'> {
  if (reason !== null) return { reason, notCovered, periods: [], difference: null, curve: null };
  const parts = periods.map((period) => ({
    period,
    times: times.filter(({ start }) => period.holds(start)),
  }));
  const part = (kind: PeriodKind) => parts.find(({ period }) => period.kind === kind)?.times;
  const [before, after] = [part('before'), part('after')];
  return {
    reason,
    notCovered,
    periods: parts.map(({ period, times: own }) => ({
      kind: period.kind,
      span: period.span,
      ...responseFigures(own, resampler),
    })),
    difference: before && after ? responseDifference(before, after, resampler) : null,
    curve: responseCurve(times),
  };
}

import { beforeAll, describe, expect, it } from 'vitest';
import type { AuditedEpisode, PatientAudit } from '../../../src/summarize/alarms/patient-audit.js';
import { CAUSES, CLOCKS, type ResponseClock } from '../../../src/summarize/alarms/response-times.js';
import { type ClockResponse, unitResponse } from '../../../src/summarize/alarms/unit-response.js';
import { aalenJohansen } from '../../../src/summarize/statistics/aalen-johansen.js';
import { clusterBootstrap } from '../../../src/summarize/statistics/cluster-bootstrap.js';
import { Resampler } from '../../../src/summarize/statistics/resampler.js';
import { expectSame, orNull } from '../../support/followed.js';
import { inventedUnit } from '../../support/invented-unit.js';
import { runR } from '../../support/r.js';

const UNIT = inventedUnit({ seed: 3, changedAfterWeeks: 13, faster: 2 });
const FEW = new Resampler(200, 5);
const CHANGED = UNIT.settings.changed?.atMs ?? 0;

const episodesOf = (patients: readonly PatientAudit[]): AuditedEpisode[] =>
  patients.flatMap(({ episodes }) => episodes);
const of = (all: readonly ClockResponse[], channel: string, clock: ResponseClock): ClockResponse =>
  all.find((one) => one.channel === channel && one.clock === clock)!;

/** Local hour of day, by the runtime's own zone data. */
const hourOf = (at: number): number =>
  Number(
    new Date(at)
      .toLocaleString('en-GB', { timeZone: 'Europe/Oslo', hour: '2-digit', hour12: false })
      .slice(0, 2),
  );
const monthOf = (at: number): string =>
  new Date(at).toLocaleString('sv', { timeZone: 'Europe/Oslo' }).slice(0, 7);
const isNight = (at: number): boolean => hourOf(at) >= 19 || hourOf(at) < 7;

const HELD: Record<string, (at: number, from: number) => boolean> = {
  all: () => true,
  before: (at) => at < CHANGED,
  after: (at) => at >= CHANGED,
  night: isNight,
  day: (at) => !isNight(at),
  month: (at, from) => monthOf(at) === monthOf(from),
};

describe('responses of a unit', () => {
  let ours: ClockResponse[];
  beforeAll(() => {
    ours = unitResponse(UNIT, FEW);
  });

  // Outside source: R, package survival, survfit of a factor with conf.type = "log-log": shares, medians and the bounds of
  // the curve, for each channel, clock and part of the time, to a relative 1e-9.
  it('are those of R in each part of the time', () => {
    const tasks = ours.flatMap(({ channel, clock, periods }) =>
      periods
        .map((period) => ({
          period,
          times: episodesOf(UNIT.patients)
            .filter(
              (one) => one.channel === channel && HELD[period.kind](one.episode.start, period.span.start),
            )
            .map((one) => one[clock]!),
        }))
        .filter(({ times }) => times.length > 3),
    );
    expect(tasks.length).toBeGreaterThan(50);
    const theirs = runR<
      {
        share: (number | null)[];
        lower: (number | null)[];
        upper: (number | null)[];
        median: number | null;
        n: number;
      }[]
    >(
      `library(survival)
       of <- function(times, causes) {
         fit <- survfit(Surv(times, factor(causes, 0:3)) ~ 1, conf.type = "log-log")
         i <- findInterval(c(5, 10, 15, 30), fit$time)
         at <- function(m) I(ifelse(i == 0, NA, unname(m[, 2])[pmax(i, 1)]))
         p <- unname(fit$pstate[, 2])
         first <- which(p > 0.5 - 1e-9)[1]
         # The middle of a stretch on one half, as summary(survfit) of one event has it.
         after <- if (!is.na(first) && p[first] < 0.5 + 1e-9) which(p > 0.5 + 1e-9)[1] else NA
         crossed <- c(fit$time[first], if (!is.na(after)) fit$time[after])
         list(share = I(ifelse(i == 0, 0, unname(fit$pstate[, 2])[pmax(i, 1)])), lower = at(fit$lower), upper = at(fit$upper),
           median = mean(crossed), n = fit$n)
       }
       Map(of, input$times, input$causes)`,
      {
        times: tasks.map(({ times }) => times.map(({ minutes }) => minutes)),
        causes: tasks.map(({ times }) => times.map(({ outcome }) => CAUSES[outcome])),
      },
    );
    let logLogs = 0;
    tasks.forEach(({ period }, i) => {
      const r = theirs[i];
      expect(period.episodes).toBe(r.n);
      const known = period.shares.map(({ share }) => typeof share.value === 'number');
      expectSame(
        period.shares.map(({ share }) => orNull(share.value)),
        r.share.map((share, k) => (known[k] ? share : null)),
      );
      expectSame([orNull(period.medianMinutes.value)], [r.median]);
      period.shares.forEach(({ naive, naiveMethod }, k) => {
        if (naiveMethod !== 'logLog' || period.method !== 'aalenJohansen' || !known[k]) return;
        logLogs++;
        expectSame([orNull(naive.lower), orNull(naive.upper)], [r.lower[k], r.upper[k]]);
      });
    });
    expect(logLogs).toBeGreaterThan(20);
    const naive = ours.flatMap(({ periods }) => periods.flatMap(({ shares }) => shares));
    expect(naive.filter(({ naiveMethod }) => naiveMethod === 'wilson').length).toBeGreaterThan(20);
  });

  it('have the bounds of the bootstrap over patients', () => {
    const period = of(ours, 'icp', 'treated').periods.find(({ kind }) => kind === 'night')!;
    const patients = UNIT.patients
      .map(({ episodes }) => episodes.filter((one) => one.channel === 'icp' && isNight(one.episode.start)))
      .filter(({ length }) => length > 0);
    expect(period.patients).toBe(patients.length);
    const share = clusterBootstrap(
      patients,
      (some) => {
        const times = some.flat().map(({ treated }) => treated!);
        const [incidence] = aalenJohansen(
          times.map(({ minutes }) => minutes),
          times.map(({ outcome }) => CAUSES[outcome]),
          3,
        ).incidences;
        return orNull(incidence.shareBy(15).value);
      },
      { resamples: 200, seed: 5 },
    );
    expect(period.shares[2].share).toEqual({ value: share.value, lower: share.lower, upper: share.upper });
    expect(typeof share.lower).toBe('number');
  });

  it('compare before with after over patients, one with both as one', () => {
    const { difference, periods } = of(ours, 'icp', 'treated');
    const counts = (kind: string) => periods.find((one) => one.kind === kind)!;
    const clusters = UNIT.patients
      .map(({ episodes }) => episodes.filter(({ channel }) => channel === 'icp'))
      // In the order in which they come in the lists before, then after.
      .filter(({ length }) => length > 0)
      .sort(
        (a, b) =>
          Number(a.every((x) => x.episode.start >= CHANGED)) -
          Number(b.every((x) => x.episode.start >= CHANGED)),
      );
    const share = (episodes: AuditedEpisode[]): number | null => {
      const [incidence] = aalenJohansen(
        episodes.map(({ treated }) => treated!.minutes),
        episodes.map(({ treated }) => CAUSES[treated!.outcome]),
        3,
      ).incidences;
      return orNull(incidence.shareBy(15).value);
    };
    const whole = clusterBootstrap(
      clusters,
      (some) => {
        const before = share(some.flat().filter(({ episode }) => episode.start < CHANGED));
        const after = share(some.flat().filter(({ episode }) => episode.start >= CHANGED));
        return before === null || after === null ? null : after - before;
      },
      { resamples: 200, seed: 5 },
    );
    expect(difference).toMatchObject({
      value: whole.value,
      lower: whole.lower,
      upper: whole.upper,
      patients: clusters.length,
    });
    expect(difference!.patientsBefore + difference!.patientsAfter).toBeGreaterThanOrEqual(clusters.length);
    expect(counts('before').episodes + counts('after').episodes).toBe(counts('all').episodes);
    expect(difference!.value).toBeGreaterThan(0);
  });

  it('have parts that make the whole, and outcomes that make the episodes', () => {
    for (const { periods, curve } of ours) {
      const sum = (kind: string) =>
        periods.filter((one) => one.kind === kind).reduce((total, { episodes }) => total + episodes, 0);
      const [all] = periods;
      expect([sum('before') + sum('after'), sum('night') + sum('day'), sum('month')]).toEqual([
        all.episodes,
        all.episodes,
        all.episodes,
      ]);
      for (const one of periods) {
        expect(one.happened + one.resolvedFirst + one.diedFirst + one.cutOff).toBe(one.episodes);
      }
      expect(curve!.atRisk[0]).toEqual({ minutes: 0, episodes: all.episodes, patients: all.patients });
      const last = curve!.points.findLast(({ minutes }) => minutes <= 15)!;
      expect(last.happenedShare).toBe(all.shares[2].share.value);
      expect(last.happened).toBe(all.shares[2].happened);
    }
  });

  it('have no months where data reach over 45 days or less', () => {
    const short = unitResponse(inventedUnit({ weeks: 6, patients: 12 }), FEW);
    expect(short[0].periods.map(({ kind }) => kind)).toEqual(['all', 'night', 'day']);
  });
});

describe('what cannot be told of responses', () => {
  const reasons = (all: readonly ClockResponse[]) => CLOCKS.map((clock) => of(all, 'icp', clock).reason);

  it('has its reason: no log, no acknowledgement in it, no patient', () => {
    expect(reasons(unitResponse({ ...UNIT, careCover: null, hasAcknowledgements: false }, FEW))).toEqual([
      'the log tells of no acknowledgement',
      'no care log was given',
      null,
    ]);
    expect(reasons(unitResponse({ ...UNIT, alarmsCover: null }, FEW))[0]).toBe('no alarm log was given');
    expect(reasons(unitResponse({ ...UNIT, patients: [] }, FEW))[2]).toBe('there are no patients');
  });

  it('is counted apart where the log does not reach an episode', () => {
    const half = { ...UNIT, careCover: { ...UNIT.period, end: CHANGED } };
    const treated = of(unitResponse(half, FEW), 'icp', 'treated');
    const all = episodesOf(UNIT.patients).filter(({ channel }) => channel === 'icp');
    expect(treated.notCovered).toBe(all.filter(({ episode }) => episode.start >= CHANGED).length);
    expect(treated.periods[0].episodes).toBe(all.length - treated.notCovered);
    expect(treated.difference!.value).toEqual({ reason: 'there was no such episode after the change' });
  });

  it('has no interval under 10 patients, and figures all the same', () => {
    const few = of(unitResponse(inventedUnit({ patients: 6, seed: 4 }), FEW), 'icp', 'treated').periods[0];
    expect(few.shares[2].share.lower).toEqual({
      reason: `an interval needs 10 patients, and there are ${few.patients}`,
    });
    expect(typeof few.shares[2].share.value).toBe('number');
  });
});

import type { UnitAuditInput } from './audit-settings.js';
import type { AuditChannel, AuditedEpisode } from './patient-audit.js';
import type { Outcome, TimeTo } from './response.js';

/** What is waited for. */
export const CLOCKS = ['acknowledged', 'treated', 'resolved'] as const;
export type ResponseClock = (typeof CLOCKS)[number];

/** The causes of the curves: what is asked for is 1, what can come before it 2 and 3, and 0 is cut off. */
export const CAUSES: Readonly<Record<Outcome, number>> = { cut: 0, happened: 1, resolved: 2, died: 3 };
export const CAUSE_COUNT = 3;

/** One episode as far as one clock goes. */
export interface ResponseTime {
  /** Index in the patients of the unit. */
  readonly patient: number;
  /** Of the episode, milliseconds UTC. */
  readonly start: number;
  readonly hadAlarm: boolean;
  readonly minutes: number;
  readonly outcome: Outcome;
  /** To where data or care log end, had nothing else come. */
  readonly followedMinutes: number;
}

/** The times of one clock; none where a reason stands. */
export interface ClockTimes {
  readonly times: readonly ResponseTime[];
  /** Episodes that the log of this clock does not reach. */
  readonly notCovered: number;
  readonly reason: string | null;
}

const whyNone = (clock: ResponseClock, input: UnitAuditInput): string | null => {
  if (clock === 'acknowledged' && input.alarmsCover === null) return 'no alarm log was given';
  if (clock === 'acknowledged' && !input.hasAcknowledgements) return 'the log tells of no acknowledgement';
  if (clock === 'treated' && input.careCover === null) return 'no care log was given';
  return null;
};

/** The clock of an episode; null where its log does not reach it. */
function timeOf(episode: AuditedEpisode, clock: ResponseClock, input: UnitAuditInput): TimeTo | null {
  const cover =
    clock === 'acknowledged' ? input.alarmsCover : clock === 'treated' ? input.careCover : input.period;
  const { start } = episode.episode;
  const isCovered = clock === 'resolved' || (cover !== null && start >= cover.start && start < cover.end);
  return isCovered ? episode[clock] : null;
}

/** The times of a clock of all sustained episodes of a channel; what its log does not reach is counted apart. */
export function clockTimes(input: UnitAuditInput, channel: AuditChannel, clock: ResponseClock): ClockTimes {
  const reason = whyNone(clock, input);
  if (reason !== null) return { times: [], notCovered: 0, reason };
  const times: ResponseTime[] = [];
  let notCovered = 0;
  input.patients.forEach(({ episodes }, patient) => {
    for (const episode of episodes) {
      if (episode.channel !== channel) continue;
      const time = timeOf(episode, clock, input);
      if (time === null) notCovered++;
      else {
        const { hadAlarm, followedMinutes } = episode;
        times.push({ patient, start: episode.episode.start, hadAlarm, followedMinutes, ...time });
      }
    }
  });
  return { times, notCovered, reason: null };
}

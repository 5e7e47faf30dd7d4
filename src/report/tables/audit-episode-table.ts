import type { UnitAuditInput } from '../../summarize/alarms/audit-settings.js';
import type { AuditedEpisode } from '../../summarize/alarms/patient-audit.js';
import type { TimeTo } from '../../summarize/alarms/response.js';
import { treatedAfter } from '../../summarize/alarms/unit-unnoticed.js';
import { CHANNEL, localTime, minutes, mmHg, type NameOf, text } from './audit-alarm-columns.js';
import { END, PATIENT, START } from './columns.js';
import type { Cell } from './csv.js';
import type { TidyColumn, TidyTable } from './tidy-table.js';

const MINUTE_MS = 60_000;

const timeCells = (name: string, time: TimeTo | null): Record<string, Cell> => ({
  [`${name}Minutes`]: time?.minutes,
  [`${name}Outcome`]: time?.outcome,
});

const episodeCells = (one: AuditedEpisode, { clock }: UnitAuditInput): Record<string, Cell> => {
  const treated = treatedAfter(one);
  return {
    start: clock.format(one.episode.start),
    end: clock.format(one.episode.end),
    minutes: (one.episode.end - one.episode.start) / MINUTE_MS,
    openStart: one.episode.openStart,
    openEnd: one.episode.openEnd,
    extremeMmHg: one.extremeMmHg,
    doseMmHgHours: one.doseMmHgHours,
    notice: one.notice,
    alarmAfterMinutes: one.alarmAfterMinutes,
    hadAlarm: one.hadAlarm,
    from: clock.format(one.from),
    ...timeCells('acknowledged', one.acknowledged),
    ...timeCells('treated', one.treated),
    treatedAfterMinutes: treated.is === 'given' ? treated.afterMinutes : null,
    ...timeCells('resolved', one.resolved),
  };
};

const outcome = (name: string, of: string): TidyColumn =>
  text(name, `How that clock stopped (happened, resolved, died, cut); blank where ${of}`);

/** Sustained episodes, how alarms told of them and how they were answered. */
export const episodeTable = (input: UnitAuditInput, nameOf: NameOf): TidyTable => ({
  name: 'episodes',
  says: 'A row a sustained episode of ICP or CPP by the rule of the unit, and how it was answered',
  columns: [
    PATIENT,
    CHANNEL,
    START,
    END,
    minutes('minutes', 'From the first crossing to the last'),
    text('openStart', 'true where missing data cut its start'),
    text('openEnd', 'true where missing data cut its end'),
    mmHg('extremeMmHg', 'Of ICP the highest sample, of CPP the lowest'),
    {
      name: 'doseMmHgHours',
      unit: 'mm[Hg].h',
      says: 'Of ICP the area above its threshold, of CPP the area below',
    },
    text(
      'notice',
      'inTime, late or none: how an alarm told of it; notCovered: the alarm log does not reach it',
    ),
    minutes('alarmAfterMinutes', 'From the crossing to the first alarm; blank where none came'),
    text('hadAlarm', 'true where an alarm belongs to it'),
    localTime('from', 'What the clocks of answering start at: the first alarm, else the crossing'),
    minutes('acknowledgedMinutes', 'From there to the acknowledgement, or to what stopped that clock'),
    outcome('acknowledgedOutcome', 'the log tells no acknowledgements'),
    minutes('treatedMinutes', 'From there to the first treatment, or to what stopped that clock'),
    outcome('treatedOutcome', 'no care log was given'),
    minutes('treatedAfterMinutes', 'From the crossing to that treatment; blank where none was given'),
    minutes(
      'resolvedMinutes',
      'From when the rule was met to the first 5 min without it, or to what stopped that clock',
    ),
    outcome('resolvedOutcome', 'never'),
  ],
  rows: input.patients.flatMap(({ id, episodes }) =>
    episodes.map((one) => ({ patient: nameOf(id), channel: one.channel, ...episodeCells(one, input) })),
  ),
});

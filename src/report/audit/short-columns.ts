import type { AuditResult } from '../results-audit.js';
import type { AuditAlarms } from '../results-audit-alarms.js';
import type { AuditResponse, PeriodResult } from '../results-audit-response.js';
import type { EstimateResult } from '../results-estimate.js';
import { day } from '../words.js';

/** What is told first of one channel over one part of the time. */
export interface ShortColumn {
  readonly channel: 'icp' | 'cpp';
  readonly part: 'all' | 'before' | 'after';
  readonly monitoredDays: number;
  readonly alarms: number | null;
  readonly perDay: EstimateResult;
  /** Of the alarms of which one can tell. */
  readonly sustained: EstimateResult;
  readonly sustainedOrCutShort: EstimateResult;
  readonly artifactShare: number | null;
  readonly episodes: number | null;
  readonly withoutAlarm: number | null;
  readonly withLateAlarm: number | null;
  readonly clocks: Readonly<Partial<Record<'acknowledged' | 'treated' | 'resolved', PeriodResult>>>;
}

const clocksOf = (
  { clocks }: AuditResponse,
  channel: ShortColumn['channel'],
  part: ShortColumn['part'],
): ShortColumn['clocks'] =>
  Object.fromEntries(
    clocks
      .filter((one) => one.channel === channel)
      .map(({ clock, periods }) => [clock, periods.find(({ kind }) => kind === part)]),
  );

/** Artifacts as a share of the alarms of which one can tell; null where none can be told, or a count is hidden. */
function artifactShare({ alarms, classes }: AuditAlarms['channels'][number]): number | null {
  const countOf = (name: string): number | null =>
    classes.find(({ alarmClass }) => alarmClass === name)?.alarms ?? null;
  const [artifacts, untold] = [countOf('artifact'), countOf('cannotTell')];
  if (alarms === null || artifacts === null || untold === null || alarms === untold) return null;
  return artifacts / (alarms - untold);
}

/** Over all the time, a column a channel. */
export const wholeColumns = ({ alarms, response }: Pick<AuditResult, 'alarms' | 'response'>): ShortColumn[] =>
  alarms.channels.map((of) => ({
    channel: of.channel,
    part: 'all',
    monitoredDays: of.monitoredDays,
    alarms: of.alarms,
    perDay: of.perDay,
    sustained: of.sustained.ofThoseTold.byPatients,
    sustainedOrCutShort: of.sustainedOrCutShort.ofThoseTold.byPatients,
    artifactShare: artifactShare(of),
    episodes: of.episodes,
    withoutAlarm: of.notices.none,
    withLateAlarm: of.notices.late,
    clocks: clocksOf(response, of.channel, 'all'),
  }));

/** Before a marked change and from then on, side by side for each channel; none where none is marked. */
export const sideColumns = ({ sides, response }: Pick<AuditResult, 'sides' | 'response'>): ShortColumn[] =>
  (['icp', 'cpp'] as const).flatMap((channel) =>
    sides.flatMap(({ side: part, channels }) =>
      channels
        .filter((one) => one.channel === channel)
        .map((one) => ({ ...one, part, clocks: clocksOf(response, channel, part) })),
    ),
  );

/** `before 16 June 2031`, `from 16 June 2031 on`. */
export const partWords = (part: ShortColumn['part'], changedAt: string): string =>
  part === 'before' ? `before ${day(changedAt)}` : part === 'after' ? `from ${day(changedAt)} on` : '';

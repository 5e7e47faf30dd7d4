import type { Cleaning } from '../../clean/clean.js';
import type { WrittenEntry } from '../../ingest/tables/care-entries.js';
import type { LoggedAlarm } from '../../ingest/tables/logged-alarms.js';
import type { Interval } from '../../recording/interval.js';
import { cutTo } from '../../recording/pieces.js';
import type { Recording } from '../../recording/recording.js';
import type { ZoneClock } from '../../recording/zone.js';
import { hoursIn } from '../calendar.js';
import type { SetTarget } from '../cpp-targets.js';
import type { SummarizeSettings } from '../summarize.js';
import type { AuditSettings } from './audit-settings.js';
import { type AuditedChannel, auditedChannels } from './audited-channels.js';
import { hoursMonitored } from './monitored-hours.js';
import { LagCounter } from './onset-lags.js';
import {
  AUDIT_CHANNELS,
  type AuditChannel,
  type AuditedAlarm,
  type AuditedEpisode,
  type PatientAudit,
  type UnjudgedAlarm,
} from './patient-audit.js';
import { replayGrid } from './replay-all.js';
import { responses } from './response.js';
import { treatmentTimes } from './treatments.js';

/** What the logs say of one patient, and what they reach over. */
export interface AuditedLogs {
  /** By start; null where no log was given. */
  readonly alarms: readonly LoggedAlarm[] | null;
  readonly care: readonly WrittenEntry[] | null;
  readonly alarmsCover: Interval | null;
  readonly careCover: Interval | null;
  readonly hasAcknowledgements: boolean;
  readonly targets: readonly SetTarget[];
  /** Null where nobody says that the patient died. */
  readonly diedAt: number | null;
}

/** An alarm so long beside a recording still is about its first or last sample: monitors average and delay. */
const BESIDE_MS = 60_000;

const isIn = (cover: Interval | null, t: number): boolean =>
  cover !== null && t >= cover.start && t <= cover.end;

const isAudited = (channel: string | null): channel is AuditChannel =>
  AUDIT_CHANNELS.some((one) => one === channel);

/** Why an alarm is not judged; null where it is. */
function whyNot(
  { start, parameter: { channel } }: LoggedAlarm,
  { extent }: Recording,
  period: Interval,
): UnjudgedAlarm['why'] | null {
  if (channel === null) return 'unknownParameter';
  if (!isAudited(channel)) return 'otherChannel';
  if (start < period.start - BESIDE_MS || start > period.end + BESIDE_MS) {
    const isRecorded = start >= extent.start - BESIDE_MS && start <= extent.end + BESIDE_MS;
    return isRecorded ? 'notInPeriod' : 'outside';
  }
  return null;
}

/**
 * Audits one patient: each alarm judged, each sustained episode with how it was told of and answered, what was monitored
 * when, and what other settings would have made of it.
 *
 * @param period of the report, or the patient's own recording
 */
export function auditRecording(
  recording: Recording,
  cleaning: Cleaning,
  logs: AuditedLogs,
  summarize: SummarizeSettings,
  settings: AuditSettings,
  period: Interval,
  clock: ZoneClock,
): PatientAudit {
  const channels = auditedChannels(recording, cleaning, summarize, logs.targets, period);
  const treatments = logs.care && treatmentTimes(logs.care, settings.treatments);
  const lags = new LagCounter();
  const alarms: AuditedAlarm[] = [];
  const unjudged: UnjudgedAlarm[] = [];
  for (const alarm of logs.alarms ?? []) {
    const { start: onset, end: ended, parameter, limit: logged, side: said, priority, acknowledged } = alarm;
    const why = whyNot(alarm, recording, period);
    const { channel } = parameter;
    if (why !== null || !isAudited(channel)) {
      unjudged.push({ onset, parameter: parameter.text, why: why ?? 'otherChannel' });
      continue;
    }
    const { judge, side: usual } = channels[channel];
    const side = said === null ? usual : said === 'upper' ? 'above' : 'below';
    const limit = logged?.value ?? settings.limitsMmHg[channel];
    const raised = { onset, limit, side } as const;
    lags.add(onset, judge.crossings(raised));
    alarms.push({
      ...judge.judge(raised, treatments ?? []),
      ...raised,
      channel,
      isLimitLogged: typeof logged?.value === 'number',
      priority,
      acknowledged,
      ended,
    });
  }
  const { icp, cpp } = channels;
  const start = Math.max(recording.extent.start, period.start);
  const extent = { start, end: Math.max(start, Math.min(recording.extent.end, period.end)) };
  const isReplayed = icp.audit.episodesReason === null;
  return {
    id: recording.id,
    extent,
    channels: { icp: icp.audit, cpp: cpp.audit },
    alarms,
    unjudged,
    episodes: AUDIT_CHANNELS.flatMap((channel) =>
      answered(channel, channels[channel], alarms, treatments, logs, settings),
    ).sort((a, b) => a.episode.start - b.episode.start),
    hours: hoursMonitored(icp.raw, cpp.raw, hoursIn(extent, clock)),
    lags: lags.lags(),
    replay: isReplayed
      ? replayGrid(
          cutTo(icp.raw, extent),
          cutTo(icp.cleaned, extent),
          icp.episodes,
          summarize.icpEpisodes.threshold,
          settings.tried,
        )
      : null,
  };
}

/** The sustained episodes of a channel with how they were told of and answered. */
function answered(
  channel: AuditChannel,
  { episodes, stretches, minSeconds, side }: AuditedChannel,
  alarms: readonly AuditedAlarm[],
  treatments: readonly number[] | null,
  logs: AuditedLogs,
  { lateSeconds }: AuditSettings,
): AuditedEpisode[] {
  const { alarmsCover, careCover, hasAcknowledgements, diedAt } = logs;
  const mine = logs.alarms && alarms.filter((one) => one.channel === channel && one.side === side);
  const found = responses(episodes, { stretches, minSeconds, alarms: mine, treatments, diedAt });
  return found.map((response, i): AuditedEpisode => {
    const { extremeMmHg, doseMmHgHours } = episodes[i];
    const { hadAlarm, from, episode } = response;
    const isTold = isIn(alarmsCover, episode.start);
    const after = hadAlarm ? Math.max(0, from - episode.start) / 60_000 : null;
    const isLate = after !== null && after * 60 >= lateSeconds[channel];
    return {
      ...response,
      acknowledged: isTold && hasAcknowledgements ? response.acknowledged : null,
      treated: isIn(careCover, episode.start) ? response.treated : null,
      channel,
      notice: !isTold ? 'notCovered' : after === null ? 'none' : isLate ? 'late' : 'inTime',
      alarmAfterMinutes: after,
      extremeMmHg,
      doseMmHgHours,
    };
  });
}

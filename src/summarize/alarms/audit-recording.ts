import type { Cleaning } from '../../clean/clean.js';
import type { WrittenEntry } from '../../ingest/tables/care-entries.js';
import type { LoggedAlarm } from '../../ingest/tables/logged-alarms.js';
import type { ChannelKind } from '../../recording/channel.js';
import type { Interval } from '../../recording/interval.js';
import { cutTo } from '../../recording/pieces.js';
import type { Recording } from '../../recording/recording.js';
import type { ZoneClock } from '../../recording/zone.js';
import type { Side } from '../../segment/stretches.js';
import { hoursIn } from '../calendar.js';
import type { SetTarget } from '../cpp-targets.js';
import type { SummarizeSettings } from '../summarize.js';
import type { AuditSettings } from './audit-settings.js';
import { type AuditedChannel, auditedChannels } from './audited-channels.js';
import { COARSEST_MS } from './judge.js';
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
import { type AnsweredAlarm, responses } from './response.js';
import { treatmentTimes } from './treatments.js';

/** What the logs say of one patient, and what they reach over. */
export interface AuditedLogs {
  /** By start; null where no log was given. */
  readonly alarms: readonly LoggedAlarm[] | null;
  readonly care: readonly WrittenEntry[] | null;
  readonly alarmsCover: Interval | null;
  readonly careCover: Interval | null;
  readonly hasAcknowledgements: boolean;
  /** The channels of which the log holds any alarm of anybody: of others it cannot tell. */
  readonly alarmedChannels: readonly ChannelKind[];
  readonly targets: readonly SetTarget[];
  /** Null where nobody says that the patient died. */
  readonly diedAt: number | null;
}

/** An alarm so long beside a recording still is about its first or last sample: monitors average and delay. */
const BESIDE_MS = 60_000;

const isIn = (cover: Interval | null, t: number): boolean =>
  cover !== null && t >= cover.start && t < cover.end;

const isAudited = (channel: string | null): channel is AuditChannel =>
  AUDIT_CHANNELS.some((one) => one === channel);

const sideOf = ({ side }: LoggedAlarm, usual: Side): Side =>
  side === null ? usual : side === 'upper' ? 'above' : 'below';

/** Why an alarm is not judged; null where it is. Of two periods side by side one alone has it. */
function whyNot(
  { start, parameter: { channel } }: LoggedAlarm,
  { extent }: Recording,
  period: Interval,
): UnjudgedAlarm['why'] | null {
  if (channel === null) return 'unknownParameter';
  if (!isAudited(channel)) return 'otherChannel';
  const isEarlier = period.start > extent.start && start < period.start;
  const isLater = period.end < extent.end && start >= period.end;
  if (isEarlier || isLater) return 'notInPeriod';
  return start < extent.start - BESIDE_MS || start > extent.end + BESIDE_MS ? 'outside' : null;
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
    const { start: onset, end: ended, parameter, limit: logged, priority, acknowledged } = alarm;
    const why = whyNot(alarm, recording, period);
    const { channel } = parameter;
    if (why !== null || !isAudited(channel)) {
      unjudged.push({ onset, parameter: parameter.text, why: why ?? 'otherChannel' });
      continue;
    }
    const { judge, side: usual } = channels[channel];
    const side = sideOf(alarm, usual);
    const limit = logged?.value ?? (side === usual ? settings.limitsMmHg[channel] : null);
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
  const { episodesReason, intervalSeconds } = icp.audit;
  const isReplayed = episodesReason === null && (intervalSeconds ?? 0) <= COARSEST_MS / 1000;
  // To the end of the episodes that begin in the period, or each delay would miss the last one.
  const replayed = { ...extent, end: Math.max(extent.end, icp.episodes.at(-1)?.end ?? extent.end) };
  return {
    id: recording.id,
    extent,
    channels: { icp: icp.audit, cpp: cpp.audit },
    alarms,
    unjudged,
    episodes: AUDIT_CHANNELS.flatMap((channel) =>
      answered(channel, channels[channel], treatments, logs, settings),
    ).sort((a, b) => a.episode.start - b.episode.start),
    hours: hoursMonitored(icp.raw, cpp.raw, hoursIn(extent, clock)),
    lags: lags.lags(),
    replay: isReplayed
      ? replayGrid(
          cutTo(icp.raw, replayed),
          cutTo(icp.cleaned, replayed),
          icp.episodes,
          summarize.icpEpisodes.threshold,
          settings.tried,
        )
      : null,
  };
}

/** All alarms of a channel on the side of its rule, those at other times of the recording too, with for how long they were on. */
const answeredAlarms = (
  channel: AuditChannel,
  { side, judge }: AuditedChannel,
  alarms: readonly LoggedAlarm[],
  { limitsMmHg }: AuditSettings,
): AnsweredAlarm[] =>
  alarms
    .filter((one) => one.parameter.channel === channel && sideOf(one, side) === side)
    .map(({ start: onset, end, acknowledged, limit }) => {
      const raised = { onset, limit: limit?.value ?? limitsMmHg[channel], side };
      return { onset, acknowledged, ended: end ?? judge.judge(raised, []).back };
    });

/** The sustained episodes of a channel with how they were told of and answered. */
function answered(
  channel: AuditChannel,
  of: AuditedChannel,
  treatments: readonly number[] | null,
  logs: AuditedLogs,
  settings: AuditSettings,
): AuditedEpisode[] {
  const { alarmsCover, careCover, hasAcknowledgements, alarmedChannels, diedAt } = logs;
  const { episodes, stretches, minSeconds, bridgeSeconds } = of;
  const found = responses(episodes, {
    ...{ stretches, minSeconds, bridgeSeconds, treatments, diedAt },
    alarms: logs.alarms && answeredAlarms(channel, of, logs.alarms, settings),
    alarmsUntil: alarmsCover?.end ?? Number.POSITIVE_INFINITY,
    careUntil: careCover?.end ?? Number.POSITIVE_INFINITY,
  });
  return found.map((response, i): AuditedEpisode => {
    const { extremeMmHg, doseMmHgHours } = episodes[i];
    const { hadAlarm, from, episode } = response;
    const isTold = isIn(alarmsCover, episode.start) && alarmedChannels.includes(channel);
    const after = hadAlarm ? Math.max(0, from - episode.start) / 60_000 : null;
    const isLate = after !== null && after * 60 >= settings.lateSeconds[channel];
    // Where the log ends in the episode, an alarm may have come behind its end.
    const isOpen = after === null && alarmsCover !== null && episode.end > alarmsCover.end;
    return {
      ...response,
      acknowledged: isTold && hasAcknowledgements ? response.acknowledged : null,
      treated: isIn(careCover, episode.start) ? response.treated : null,
      channel,
      notice: !isTold || isOpen ? 'notCovered' : after === null ? 'none' : isLate ? 'late' : 'inTime',
      alarmAfterMinutes: after,
      extremeMmHg,
      doseMmHgHours,
    };
  });
}

import type { LoggedAlarm } from '../../ingest/tables/logged-alarms.js';
import type { Interval } from '../../recording/interval.js';
import type { Side } from '../../segment/stretches.js';
import type { Judgement } from './judge.js';
import type { ReplayGrid } from './replay-grid.js';
import type { Response } from './response.js';

/** The channels whose alarms are judged. */
export const AUDIT_CHANNELS = ['icp', 'cpp'] as const;
export type AuditChannel = (typeof AUDIT_CHANNELS)[number];

/** An alarm of ICP or CPP that was judged; times in milliseconds UTC, as corrected where a shift was given. */
export interface AuditedAlarm extends Judgement {
  readonly channel: AuditChannel;
  readonly onset: number;
  readonly side: Side;
  /** mmHg; null where the log gives none and the pipeline file has none for its side. */
  readonly limit: number | null;
  /** False where the log gives no limit, so that the one of the pipeline file was taken. */
  readonly isLimitLogged: boolean;
  readonly priority: LoggedAlarm['priority'];
  readonly acknowledged: number | null;
  readonly ended: number | null;
}

/** An alarm that nobody judged, and why. */
export interface UnjudgedAlarm {
  readonly onset: number;
  /** As the log names it. */
  readonly parameter: string;
  /**
   * `otherChannel`: a channel that is known and not audited; `unknownParameter`: no channel that is known; `outside`: no
   * recording of the patient reaches it; `notInPeriod`: the report is over another time.
   */
  readonly why: 'otherChannel' | 'unknownParameter' | 'outside' | 'notInPeriod';
}

/** How a sustained episode was told of. `notCovered`: the alarm log does not reach it, or there is none. */
export type Notice = 'inTime' | 'late' | 'none' | 'notCovered';

/** A sustained episode of ICP or CPP and how it was answered. */
export interface AuditedEpisode extends Response {
  readonly channel: AuditChannel;
  readonly notice: Notice;
  /** From the crossing to the first alarm, 0 where one was on before; null where none came. */
  readonly alarmAfterMinutes: number | null;
  /** mmHg: of ICP the highest sample and the dose above its threshold, of CPP the lowest and the dose below. */
  readonly extremeMmHg: number;
  readonly doseMmHgHours: number;
}

/** How long the pressures were monitored in one hour of the clock on the wall; raw, inside the period. */
export interface MonitoredHour extends Interval {
  readonly icpMs: number;
  readonly cppMs: number;
}

/**
 * For how many pairs of an alarm and a crossing of its own limit the onset came so long after the crossing: one count a
 * second, from `-reachSeconds` on. All pairs within the reach count: chance spreads, and a clock that is apart piles up.
 */
export interface OnsetLags {
  readonly reachSeconds: number;
  readonly counts: Uint32Array;
  /** Alarms that were compared. */
  readonly alarms: number;
}

/** What one channel of a patient can tell. */
export interface ChannelAudit {
  readonly intervalSeconds: number | null;
  /** Known as exported, and after cleaning. */
  readonly rawHours: number;
  readonly cleanedHours: number;
  /** Why no sustained episode can be told; null where one can. */
  readonly episodesReason: string | null;
  /** Cut off and too short to tell. */
  readonly undetermined: number;
}

/** All that the audit needs of one patient; plain data with typed arrays, so that it can come from another thread. */
export interface PatientAudit {
  /** As exported. */
  readonly id: string;
  /** The recording as far as it lies in the period. */
  readonly extent: Interval;
  readonly channels: Readonly<Record<AuditChannel, ChannelAudit>>;
  /** By onset. */
  readonly alarms: readonly AuditedAlarm[];
  readonly unjudged: readonly UnjudgedAlarm[];
  /** By start. */
  readonly episodes: readonly AuditedEpisode[];
  /** Every hour that shares time with the extent, in order. */
  readonly hours: readonly MonitoredHour[];
  readonly lags: OnsetLags;
  /** Null where no ICP can be replayed: too coarse. */
  readonly replay: ReplayGrid | null;
}

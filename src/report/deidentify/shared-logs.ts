import type { LoggedAlarm } from '../../ingest/tables/logged-alarms.js';
import type { CareEntry, CareKind } from '../../recording/care.js';
import { CHANNEL_UNITS, type ExportedKind } from '../../recording/channel.js';
import { toCsv } from '../tables/csv.js';
import { SHARED_NAMES, SHARED_UNITS } from './channel-headers.js';
import { type PatientTimes, sharedTime } from './shared-times.js';

/** Of whom a shared row is, and how that patient's times are written. */
export interface Coded {
  readonly code: string;
  readonly times: PatientTimes;
}

/** Words that our own reading takes for each kind; of a treatment nothing but that it was one. */
export const CARE_WORDS: Readonly<Record<CareKind, string>> = {
  turn: 'turned',
  suction: 'suctioning',
  zeroing: 'zeroing',
  drainOpen: 'drain opened',
  drainClosed: 'drain closed',
  travel: 'transport',
  headOfBed: 'head of bed',
  treatment: 'treatment',
  other: 'other',
};

/** A time as it is shared; blank for none. */
export const timeOrBlank = ({ times }: Coded, utcMs: number | null): string =>
  utcMs === null ? '' : sharedTime(times, utcMs);

/** The care log as it is shared: kinds, angles of the head of the bed and times, and no word that anybody wrote. */
export const sharedCare = (
  entries: readonly { readonly whose: Coded; readonly entry: CareEntry }[],
): string =>
  toCsv(
    ['Patient', 'Start', 'End', 'Event', 'Angle'],
    entries.map(({ whose, entry: { start, end, kinds, angleDegrees } }) => [
      whose.code,
      timeOrBlank(whose, start),
      timeOrBlank(whose, end),
      kinds.map((kind) => CARE_WORDS[kind]).join('; '),
      angleDegrees,
    ]),
  );

/** What a shared alarm says of its parameter; one that is no channel is told as `other`, since its name is free text. */
function parameterCells({ parameter: { channel }, limit, side }: LoggedAlarm): (string | number | null)[] {
  if (channel === null) return ['other', side, null, null];
  const unit = SHARED_UNITS[CHANNEL_UNITS[channel]];
  const value = limit?.value ?? null;
  return [SHARED_NAMES[channel as ExportedKind], side, value, value === null ? null : unit];
}

/** The alarm log as it is shared: channel, limit, priority and times. */
export const sharedAlarms = (
  entries: readonly { readonly whose: Coded; readonly entry: LoggedAlarm }[],
): string =>
  toCsv(
    ['Patient', 'Onset', 'Ended', 'Acknowledged', 'Parameter', 'Direction', 'Limit', 'Unit', 'Priority'],
    entries.map(({ whose, entry }) => [
      whose.code,
      timeOrBlank(whose, entry.start),
      timeOrBlank(whose, entry.end),
      timeOrBlank(whose, entry.acknowledged),
      ...parameterCells(entry),
      entry.priority,
    ]),
  );

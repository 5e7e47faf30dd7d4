import { loggedOpen } from '../clean/logged-open.js';
import type { WrittenEntry } from '../ingest/tables/care-entries.js';
import type { LoggedAlarm } from '../ingest/tables/logged-alarms.js';
import type { Recording } from '../recording/recording.js';
import { alarmWords } from './alarm-words.js';
import type { Bedside } from './bedside.js';

/**
 * What logs say of one patient's bedside, over all the time that they tell of.
 *
 * @param alarms by start; null where no alarm log was given
 * @param care by start; null where no care log was given
 */
export function bedsideOf(
  alarms: readonly LoggedAlarm[] | null,
  care: readonly WrittenEntry[] | null,
  { extent }: Pick<Recording, 'extent'>,
): Bedside {
  return {
    alarms:
      alarms?.map((alarm) => ({
        start: alarm.start,
        end: alarm.end,
        acknowledged: alarm.acknowledged,
        text: alarmWords(alarm),
      })) ?? null,
    entries:
      care?.map(({ start, end, kinds, text }) => ({
        start,
        end,
        isTreatment: kinds.includes('treatment'),
        text,
      })) ?? null,
    drainOpen: care ? loggedOpen({ care, extent }) : [],
  };
}

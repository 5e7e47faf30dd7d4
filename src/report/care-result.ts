import type { WrittenEntry } from '../ingest/tables/care-entries.js';
import { overlaps } from '../recording/interval.js';
import { shorten } from '../recording/problem.js';
import type { Recording } from '../recording/recording.js';
import type { ZoneClock } from '../recording/zone.js';
import { ends } from './ends.js';
import type { RecordingResult } from './results-schema.js';

/** So many entries that were not understood are named. */
const NAMED = 3;

const isInside = ({ start, end }: WrittenEntry, { extent }: Recording): boolean =>
  overlaps({ start, end: end ?? start }, extent);

/** What is known of a patient's entries in the care log; all null where no log was given. */
export function careResult(
  care: readonly WrittenEntry[] | null,
  recording: Recording,
  clock: ZoneClock,
): Pick<
  RecordingResult,
  'careEntries' | 'careEntriesInside' | 'careTimes' | 'careEntriesNotUnderstood' | 'careNotUnderstood'
> {
  if (care === null) {
    const none = { careEntries: null, careEntriesInside: null, careTimes: null };
    return { ...none, careEntriesNotUnderstood: null, careNotUnderstood: [] };
  }
  const unclear = care.filter(({ kinds }) => kinds.every((kind) => kind === 'other'));
  const inside = unclear.filter((entry) => isInside(entry, recording));
  const [first, last] = [care.at(0), care.at(-1)];
  return {
    careEntries: care.length,
    careEntriesInside: care.filter((entry) => isInside(entry, recording)).length,
    careTimes: first && last ? ends({ start: first.start, end: last.start }, clock) : null,
    careEntriesNotUnderstood: unclear.length,
    careNotUnderstood: [...inside, ...unclear.filter((entry) => !inside.includes(entry))]
      .slice(0, NAMED)
      .map(({ start, text }) => ({ start: clock.format(start), text: shorten(text) })),
  };
}

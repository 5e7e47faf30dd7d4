import { type Channel, EXPORTED_KINDS } from '../../recording/channel.js';
import { merge } from '../../recording/merged-times.js';
import type { Recording } from '../../recording/recording.js';
import { csvRows, toCsv } from '../tables/csv.js';
import { sharedHeader } from './channel-headers.js';
import { type PatientTimes, sharedTime, type TimesMode } from './shared-times.js';

/** The header of the times, as the shared pipeline file names it. */
export const TIME_HEADERS: Readonly<Record<TimesMode, string>> = { elapsed: 'Elapsed (s)', shifted: 'Time' };

/** So many rows are one piece of text. */
const ROWS_A_PIECE = 4096;

/**
 * The channels that are shared: those that an export may hold. MAP that reading has made of systolic and diastolic
 * pressure is left to be made again, so that a report on the shared set says so too; one whose clock was set right
 * cannot be made again.
 */
export function sharedChannels({ channels }: Recording): Channel[] {
  const { map, sbp, dbp } = channels;
  const isMadeAgain = map?.derivedFrom != null && !map.shiftSeconds && sbp && dbp;
  return EXPORTED_KINDS.flatMap((kind) => {
    const channel = channels[kind];
    return channel === undefined || (kind === 'map' && isMadeAgain) ? [] : [channel];
  });
}

/** A value as it was read, with the decimals that the monitor wrote; in full where it was converted. */
function valueText(value: number, decimals: number): string {
  const written = value.toFixed(decimals);
  return Number(written) === value ? written : String(value);
}

/**
 * Times of rows without any value that have to be told, or a reader would take a lead that was off for an export that
 * had stopped: the ends of the recording, and one in each stretch of blanks.
 */
function blankTimes(channels: readonly Channel[], { extent }: Recording): Float64Array {
  const inside = channels.flatMap(({ blanks }) =>
    blanks.map(({ start, end }) => Math.floor((start + end) / 2)),
  );
  return Float64Array.from([...new Set([extent.start, ...inside, extent.end])].sort((a, b) => a - b));
}

/**
 * A recording as CSV in the plainest form that our own reading takes: a column a channel, a row a time, blank where a
 * channel has no sample. In pieces, so that a long recording never stands in the memory as text.
 */
export function* sharedExport(recording: Recording, times: PatientTimes): Generator<string> {
  const channels = sharedChannels(recording);
  const all = channels.reduce(
    (so, { signal }) => merge(so, signal.times).times,
    blankTimes(channels, recording),
  );
  yield toCsv([TIME_HEADERS[times.mode], ...channels.map(sharedHeader)], []);
  const next = channels.map(() => 0);
  for (let from = 0; from < all.length; from += ROWS_A_PIECE) {
    const rows = Array.from(all.subarray(from, from + ROWS_A_PIECE), (time) => [
      sharedTime(times, time),
      ...channels.map(({ signal, decimals }, c) =>
        signal.times[next[c]] === time ? valueText(signal.values[next[c]++], decimals) : '',
      ),
    ]);
    yield csvRows(rows);
  }
}

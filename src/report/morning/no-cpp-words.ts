import type { RecordingResult } from '../results-schema.js';

/** Why CPP is not known, as the end of a sentence: what was never measured is told from what cleaning left out. */
export function noCppWords({
  monitoredHours,
  cleaning,
  levelling,
}: Pick<RecordingResult, 'monitoredHours' | 'cleaning' | 'levelling'>): string {
  if (monitoredHours.map > 0 && levelling.unknownHours > 0) {
    return 'MAP has to be taken to ear level, and the angle of the head of the bed is not known for it';
  }
  if (monitoredHours.map > 0) return 'ICP and arterial pressure were never known at the same time';
  if (!cleaning.channels.some(({ channel }) => channel === 'map')) return 'there is no arterial pressure';
  const isLeftOut = cleaning.takes.some(
    ({ channel, rule, staysIn, hours }) =>
      channel === 'map' && rule !== 'disconnected' && !staysIn && hours > 0,
  );
  return isLeftOut
    ? 'cleaning left out all of the arterial pressure'
    : 'there is no arterial pressure in this time';
}

import type { RecordingResult } from '../results-schema.js';
import { duration, share } from '../words.js';
import { cppKnownShare } from './cannot-say.js';
import { notLevelledWords } from './levelling-words.js';

/** Arterial pressure that is missing for so long has to be known before the figures. */
const LONG_HOURS = 1;

/** What of arterial pressure a reader has to know before the figures, in sentences. */
export function mapNotes(result: RecordingResult): string[] {
  const { monitoredHours, mapDerivedFrom, period, clockLag, ownCpp } = result;
  if (monitoredHours.cpp === 0) return [];
  const hours = (Date.parse(period.end) - Date.parse(period.start)) / 3_600_000;
  const missing = hours - monitoredHours.cpp;
  return [
    missing >= LONG_HOURS
      ? `CPP is not known for ${duration(missing)} of ${duration(hours)} (known for ${share(cppKnownShare(result))}): of that time nothing here says anything.`
      : '',
    mapDerivedFrom === null
      ? ''
      : 'The export holds no MAP: it is derived from systolic and diastolic pressure, and CPP and PRx rest on it.',
    clockLag.isApart ? clockLag.sentence : '',
    notLevelledWords(result) ?? '',
    ownCpp?.isWithoutLevel ? ownCpp.sentence : '',
  ].filter((note) => note !== '');
}

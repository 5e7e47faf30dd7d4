import { bedsideWords } from './morning/bedside-words.js';
import { decisionLines } from './morning/decision-lines.js';
import { nothingSuspectWords } from './morning/nothing-suspect.js';
import { longestStretches, seenWords, stretchTime, zeroLine } from './morning/probe-words.js';
import { worstEpisodes } from './morning/worst-episodes.js';
import type { RecordingResult } from './results-schema.js';
import { oneLine } from './visible-text.js';
import { counted, duration, pressure, share, span, timesOf } from './words.js';

/** No patient takes more lines than this. */
export const MOST_LINES = 12;
/** So many suspect stretches are told one by one, the longest. */
const MOST_SUSPECT = 2;

const CAUTION =
  'From exported data, looking back; no alarm and no medical device. Verify at the bedside; follow local protocol.';

/** That nothing is suspect has a line of its own, which says what that means. */
const suspectFor = ({ suspectHours }: RecordingResult): string =>
  suspectHours === 0 ? '' : `; suspect for ${duration(suspectHours)}`;

function suspectLines(result: RecordingResult): string[] {
  const { suspect, period } = result;
  if (suspect.length === 0) return [nothingSuspectWords(result)];
  const lines = longestStretches(suspect, MOST_SUSPECT).map((stretch) => {
    const way = stretch.direction === 'down' ? 'left out of the figures' : 'still in the figures';
    return `Suspect: ${stretchTime(stretch, timesOf(period))}, ${seenWords(stretch)}; ${way}. Usually checked first: ${stretch.checkFirst}.`;
  });
  const rest = suspect.length - MOST_SUSPECT;
  return rest > 0
    ? [...lines, `And ${counted(rest, 'shorter suspect stretch', 'shorter suspect stretches')}.`]
    : lines;
}

function episodeLine({ episodes, decimals, period }: RecordingResult): string[] {
  if (episodes.length === 0) return [];
  const at = timesOf(period);
  const worst = worstEpisodes(episodes);
  const told = worst.map(
    ({ start, minutes, highestMmHg }) =>
      `${at(start)} (${duration(minutes / 60)}, single value to ${pressure(highestMmHg, decimals.icp)} mmHg)`,
  );
  const which =
    worst.length < episodes.length ? `Worst ${worst.length} of ${episodes.length} episodes` : 'Episodes';
  return [`${which}: ${told.join('; ')}.`];
}

/**
 * The patient's period in up to twelve lines of plain text, to be pasted: period, known share, what happened, what may be
 * the probe, and that it is to be verified.
 *
 * @param cleaningNote where cleaning is not the usual one
 * @param zone IANA name of the zone that the times are in
 */
export function handover(
  result: RecordingResult,
  { cleaningNote, zone }: { readonly cleaningNote: string | null; readonly zone: string },
): string[] {
  const { start, end } = result.period;
  const decided = result.decisions.length > 0 ? `${decisionLines(result).join('; ')}.` : null;
  const notes = [
    cleaningNote,
    result.samplingNote,
    result.levelling.note,
    result.decisionNote,
    decided,
  ].filter((note) => note !== null);
  const bedside = bedsideWords(result);
  return [
    `Patient ${result.id}, ${span(start, end)} (${zone})`,
    `ICP known for ${share(result.knownShare)} of this time${suspectFor(result)}.`,
    result.sentence,
    ...(notes.length === 0 ? [] : [notes.join(' ')]),
    ...suspectLines(result),
    ...zeroLine(result, timesOf(result.period)),
    ...episodeLine(result),
    ...(bedside === '' ? [] : [bedside]),
    CAUTION,
  ].map(oneLine);
}

/** The lines of a patient of whom there are no figures. */
export const absentHandover = (id: string, what: string, why: string): string[] =>
  [`Patient ${id}: ${what}`, `Cannot say: ${why.replace(/\.$/, '')}.`, CAUTION].map(oneLine);

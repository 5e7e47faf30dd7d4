import type { JSX } from 'preact';
import type { RecordingResult } from '../results-schema.js';
import { dose, duration } from '../words.js';
import { belowLowest } from './below-lowest.js';
import { jointSentence } from './joint-section.js';
import { LowCppEpisodes } from './low-cpp-section.js';
import { bWaveWords, plateauWords } from './waves-section.js';

/** The dose below the lowest band; that below the floor stands in the table of figures. */
function lowestBand(result: RecordingResult): string | null {
  const lowest = belowLowest(result);
  if (
    lowest === null ||
    (lowest.hours ?? 0) === 0 ||
    lowest.belowMmHg === result.perfusion.joint.cppBelowMmHg
  )
    return null;
  const { belowMmHg, hours, doseMmHgHours } = lowest;
  return `Dose below ${belowMmHg} mmHg: ${dose(doseMmHgHours)} mmHg·h in ${duration(hours)}.`;
}

/**
 * Perfusion and autoregulation for a page that is about something else. Optimal CPP stays out of it: beside the figures of
 * a night it would become a target.
 */
export function PerfusionInShort({ result }: { result: RecordingResult }): JSX.Element {
  const { perfusion, cpp } = result;
  const waves = (
    <p>
      {plateauWords(perfusion)} {bWaveWords(perfusion)}
    </p>
  );
  if (cpp.meanMmHg === null) return waves;
  const lowest = lowestBand(result);
  return (
    <>
      {lowest !== null && <p>{lowest}</p>}
      <LowCppEpisodes result={result} />
      <p>{jointSentence(perfusion)}</p>
      <p>{perfusion.prx.sentence}</p>
      <p>{perfusion.minuteIndex.sentence}</p>
      {waves}
    </>
  );
}

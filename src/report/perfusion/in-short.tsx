import type { JSX } from 'preact';
import type { RecordingResult } from '../results-schema.js';
import { BelowTable } from './cpp-section.js';
import { jointSentence } from './joint-section.js';
import { LowCppEpisodes } from './low-cpp-section.js';
import { bWaveWords, plateauWords } from './waves-section.js';

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
  return (
    <>
      <BelowTable perfusion={perfusion} />
      <LowCppEpisodes result={result} />
      <p>{jointSentence(perfusion)}</p>
      <p>{perfusion.prx.sentence}</p>
      <p>{perfusion.minuteIndex.sentence}</p>
      {waves}
    </>
  );
}

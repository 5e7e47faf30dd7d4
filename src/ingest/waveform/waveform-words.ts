import { CHANNEL_NAMES } from '../../recording/channel.js';
import { lostWords } from './lost-time.js';
import type { WaveResult } from './wave-result.js';

/** What was made of a waveform, for whoever looks at the reading. */
export function waveformWords({ samplesPerSecond, kinds, doubtful, lost }: WaveResult): string[] {
  const names = kinds
    .map((kind) => (kind === 'map' ? 'arterial pressure' : CHANNEL_NAMES[kind]))
    .join(' and ');
  const of = names === '' ? 'rows, with no waveform of a pressure in them' : `samples a second of ${names}`;
  return [
    `the file is a waveform of ${samplesPerSecond} ${of}, which is read as means over whole seconds.`,
    ...(doubtful === null
      ? []
      : [
          `it begins in the hour that the clock shows twice that night, and nothing says which one is meant; its first row was taken for ${doubtful}.`,
        ]),
    ...lostWords(lost),
  ];
}

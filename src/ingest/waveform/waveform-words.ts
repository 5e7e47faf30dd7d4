import { CHANNEL_NAMES } from '../../recording/channel.js';
import { PULSES_PER_SECOND, RULES_PER_SECOND } from '../../recording/waveform.js';
import { lostWords } from './lost-time.js';
import type { WaveResult } from './wave-result.js';

/** What was made of a waveform, for whoever looks at the reading. */
export function waveformWords({
  samplesPerSecond,
  kinds,
  changes,
  doubtful,
  lost,
  pulses,
}: WaveResult): string[] {
  const names = kinds
    .map((kind) => (kind === 'map' ? 'arterial pressure' : CHANNEL_NAMES[kind]))
    .join(' and ');
  const of = names === '' ? 'rows, with no waveform of a pressure in them' : `samples a second of ${names}`;
  const isPulseMissing =
    kinds.length > 0 &&
    pulses.length === 0 &&
    samplesPerSecond >= PULSES_PER_SECOND &&
    lost.rows > LEAST_PULSE_SECONDS * samplesPerSecond;
  return [
    `the file is a waveform of ${samplesPerSecond} ${of}, which is read as means over whole seconds${tooFew(samplesPerSecond)}.`,
    ...(doubtful === null
      ? []
      : [
          `it begins in the hour that the clock shows twice that night, and nothing says which one is meant; its first row was taken for ${doubtful}.`,
        ]),
    ...(isPulseMissing ? [NO_PULSE] : []),
    ...rateWords(changes),
    ...lostWords(lost),
  ];
}

/** The first changes of the rate; a file that changes it again and again would fill the page. */
const MOST_CHANGES = 3;

function rateWords(changes: WaveResult['changes']): string[] {
  if (changes.length === 0) return [];
  const told = changes
    .slice(0, MOST_CHANGES)
    .map(({ time, perSecond }) => `${perSecond} a second by ${time}`);
  const more = changes.length - told.length;
  return [`its rate changes: ${told.join(', ')}${more > 0 ? `, and ${more} more times` : ''}.`];
}

/** What a coarse waveform cannot be used for. */
function tooFew(samplesPerSecond: number): string {
  if (samplesPerSecond >= RULES_PER_SECOND) return '';
  const pulses = samplesPerSecond < PULSES_PER_SECOND ? ', for pulses' : '';
  return `: too few for the rules of waveforms${pulses} and for systolic and diastolic pressure`;
}

/** A shorter file holds no window of the pulse for sure. */
const LEAST_PULSE_SECONDS = 20;
const NO_PULSE =
  'no pulse could be measured: it needs 8 s in a row of evenly spaced samples, without artifact, in which a heart beat stands out.';

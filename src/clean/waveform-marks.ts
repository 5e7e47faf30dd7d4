import type { Recording } from '../recording/recording.js';
import { RULES_PER_SECOND } from '../recording/waveform.js';
import type { Finding, Grade, Mark } from './rule.js';

/** What a rule saw at waveform resolution, while the exports were read, as its marks on the means of the seconds. */
export const waveformMarks = ({ waveform }: Recording, rule: string, grade: Grade): Mark[] =>
  (waveform?.marks ?? []).flatMap((mark) => (mark.rule === rule ? [{ ...mark, grade }] : []));

/** The same as all that a rule for waveforms finds; it stands aside where even the finest one is too coarse. */
export function waveformFinding(recording: Recording, rule: string, grade: Grade): Finding {
  const { samplesPerSecond = Number.POSITIVE_INFINITY } = recording.waveform ?? {};
  const tooFew = `the waveform has ${samplesPerSecond} samples a second; the rule needs ${Math.ceil(RULES_PER_SECOND)}`;
  return {
    marks: waveformMarks(recording, rule, grade),
    stoodAside: samplesPerSecond < RULES_PER_SECOND ? [tooFew] : [],
  };
}

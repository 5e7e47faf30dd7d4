import type { Recording } from '../recording/recording.js';
import type { Grade, Mark } from './rule.js';

/** What a rule saw at waveform resolution, while the exports were read, as its marks on the means of the seconds. */
export const waveformMarks = ({ waveform }: Recording, rule: string, grade: Grade): Mark[] =>
  (waveform?.marks ?? []).flatMap((mark) => (mark.rule === rule ? [{ ...mark, grade }] : []));

import { MMHG_PER_CM } from '../../summarize/levelling.js';
import type { UnitRecording } from '../results-schema.js';
import { listed, pressure } from '../words.js';

/** A usual position and an invented body, as an example of what the level makes. Common practice, no source. */
const EXAMPLE = { degrees: 30, heartToEarCm: 28 } as const;

/** What CPP would lose in the example, whole mmHg. */
const exampleMmHg = (): string =>
  pressure(EXAMPLE.heartToEarCm * Math.sin((EXAMPLE.degrees * Math.PI) / 180) * MMHG_PER_CM, 0);

const NOT_LEVELLED = `Not levelled: if the line was zeroed at the heart and the head was up, CPP at the ear was lower than shown (about ${exampleMmHg()} mmHg at ${EXAMPLE.degrees} degrees and ${EXAMPLE.heartToEarCm} cm).`;

/** True where there is MAP, and nothing was said of where its line was zeroed. */
const isNotLevelled = ({ levelling }: Pick<UnitRecording, 'levelling'>): boolean =>
  levelling.zeroedAt === null && levelling.asZeroedNote !== null;

/** That CPP may be lower than it is shown, where nobody said at what level MAP was zeroed; null where somebody did. */
export const notLevelledWords = (recording: Pick<UnitRecording, 'levelling'>): string | null =>
  isNotLevelled(recording) ? NOT_LEVELLED : null;

/** What the page of a unit says of levels: once what is the same for all, else by patient. */
export interface UnitLevels {
  readonly once: string;
  readonly ofPatient: (recording: UnitRecording) => string;
}

/** By how much MAP was taken down for CPP, once where it is the same for all who have CPP. */
export function unitLevels(recordings: readonly UnitRecording[]): UnitLevels {
  const note = ({ levelling }: UnitRecording): string => levelling.note ?? '';
  const withNote = recordings.filter((one) => note(one) !== '');
  const not = recordings.filter(isNotLevelled).map(({ id }) => id);
  const isAll = not.length > 0 && withNote.length === 0;
  const notLevelled = isAll
    ? NOT_LEVELLED
    : not.length === 0
      ? ''
      : `${NOT_LEVELLED.replace('Not levelled', `Not levelled in ${listed(not)}`)}`;
  const isSame = new Set(withNote.map(note)).size === 1 && withNote.length > 1;
  return {
    once: [isSame ? note(withNote[0]) : '', notLevelled].filter((words) => words !== '').join(' '),
    ofPatient: (one) => (isSame ? '' : note(one)),
  };
}

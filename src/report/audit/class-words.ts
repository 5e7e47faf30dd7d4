import type { AlarmClass } from '../../summarize/alarms/judge.js';

/** A class of alarms as a page names it, and what it means. */
export interface ClassWords {
  readonly name: string;
  readonly says: string;
}

/** In the order of a page: what was true first, what one cannot tell last. */
export const CLASS_WORDS: Readonly<Record<AlarmClass, ClassWords>> = {
  sustained: { name: 'Sustained', says: "It stood in a sustained episode by the unit's rule." },
  cutShort: {
    name: 'Cut short',
    says: 'Truly past its limit, and a treatment was logged before it was back; it may have become sustained.',
  },
  longPast: {
    name: 'Long past',
    says: "Past its own limit for as long as the unit's rule asks, though not past the threshold of that rule.",
  },
  brief: { name: 'Brief', says: 'Truly past its limit, and back sooner than that.' },
  noCrossing: {
    name: 'No crossing',
    says: 'As exported, the signal was not past the limit from 60 s before the alarm to 10 s after.',
  },
  artifact: { name: 'Artifact', says: 'Past its limit only in what cleaning removed: not the patient.' },
  suspect: {
    name: 'Suspect',
    says: 'Past its limit in a suspect stretch: it may or may not be the patient.',
  },
  cannotTell: {
    name: 'Cannot tell',
    says: 'Nothing was recorded then, or a sample came every 20 s or less often.',
  },
};

export const CLASSES_SHOWN = Object.keys(CLASS_WORDS) as AlarmClass[];

export const CHANNEL_SHORT = { icp: 'ICP', cpp: 'CPP' } as const;

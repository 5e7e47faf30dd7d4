import { type Cleaning, cleanedSignal, type Reading } from '../../clean/clean.js';
import type { Mark } from '../../clean/rule.js';
import { Difference } from '../../recording/difference.js';
import { type Recording, rawSignal } from '../../recording/recording.js';
import type { Signal } from '../../recording/signal.js';
import { type Levelling, levelSteps, takenOffMap } from '../levelling.js';
import type { Signals } from '../summarize.js';

/** What features of one recording are computed on. */
export interface StudySignals {
  /** After cleaning: MAP as it was measured, CPP from MAP at ear level where that was asked for. */
  readonly signals: Signals;
  /** ICP as exported. */
  readonly rawIcp: Signal;
  readonly marks: readonly Mark[];
  /** Nominal intervals, milliseconds; 0 where the channel is not there. */
  readonly intervalMs: { readonly icp: number; readonly map: number };
  /** Why PRx, and what rests on it, cannot be read, such as clocks that may be apart; null where it can. */
  readonly whyNoPrx: string | null;
  /** Optimal CPP is asked for: holding it against chance is about a fifth of the work. */
  readonly hasOptimal: boolean;
  /** As the cohort table gives it; null where it does not. */
  readonly therapyIntensity: number | null;
}

/** What is asked for beside the signals. */
export interface StudyOptions {
  readonly hasOptimal: boolean;
  /** Why PRx cannot be read; null where nothing is said. */
  readonly whyNoPrx?: string | null;
  /** Which suspect stretches are left out; as in the headline figures where nothing is said. */
  readonly reading?: Reading;
  /** As the cohort table gives it. */
  readonly therapyIntensity?: number | null;
}

/** The signals of a recording, from what cleaning marked. */
export function studySignals(
  recording: Recording,
  cleaning: Cleaning,
  levelling: Levelling | undefined,
  { hasOptimal, whyNoPrx = null, reading = 'headline', therapyIntensity = null }: StudyOptions,
): StudySignals {
  const rawIcp = rawSignal(recording, 'icp');
  const taken = takenOffMap(levelSteps(levelling, recording.care));
  const icp = cleanedSignal(recording, 'icp', cleaning, reading);
  const map = cleanedSignal(recording, 'map', cleaning, reading);
  const perfusion = new Difference(rawSignal(recording, 'map'), rawIcp, taken);
  const intervalMs = (kind: 'icp' | 'map'): number => recording.channels[kind]?.nominalIntervalMs || 0;
  return {
    signals: { icp, map, cpp: perfusion.where(map, icp) },
    rawIcp,
    marks: cleaning.marks,
    intervalMs: { icp: intervalMs('icp'), map: intervalMs('map') },
    whyNoPrx,
    hasOptimal,
    therapyIntensity,
  };
}

import type { Interval } from '../../recording/interval.js';
import { HOUR_MS } from '../hour.js';
import type { BurdenFeatures } from './burden-features.js';
import type { NoWindow, StudyWindow, StudyWindows } from './study-windows.js';

/** Where a window lies, in hours since the start of monitoring. */
export interface FeatureWindow {
  readonly startHours: number;
  readonly endHours: number;
  readonly endsBy: StudyWindow['endsBy'];
  readonly features: BurdenFeatures;
}

/** The features of one patient over one window, or why there is no such window. */
export interface FeatureRow {
  readonly patient: string;
  readonly kind: 'primary' | 'stay' | 'day';
  /** Days since injury, the first one 1; null for other windows, and where no days can be told. */
  readonly day: number | null;
  readonly window: FeatureWindow | NoWindow;
}

type Named = Pick<FeatureRow, 'kind' | 'day'> & { readonly found: StudyWindow | NoWindow };

function namedWindows({ primary, stay, days }: StudyWindows): Named[] {
  return [
    { kind: 'primary', day: null, found: primary },
    { kind: 'stay', day: null, found: stay },
    ...('reason' in days
      ? [{ kind: 'day' as const, day: null, found: days }]
      : days.map((one) => ({ kind: 'day' as const, day: one.day, found: one }))),
  ];
}

/**
 * The rows of one patient's windows: the primary one, the stay, then days. Hours count from the start of monitoring, which is
 * that of the stay.
 *
 * @param compute gives the features of each window, in their order, ends in milliseconds UTC
 */
export function featureRowsOf(
  patient: string,
  windows: StudyWindows,
  compute: (windows: readonly Interval[]) => readonly BurdenFeatures[],
): FeatureRow[] {
  const named = namedWindows(windows);
  const found = named.flatMap(({ found: one }) => ('reason' in one ? [] : [one]));
  const features = new Map(compute(found).map((one, i) => [found[i], one] as const));
  const start = 'reason' in windows.stay ? 0 : windows.stay.start;
  return named.map(({ kind, day, found: one }) => {
    if ('reason' in one) return { patient, kind, day, window: one };
    const computed = features.get(one);
    if (!computed) throw new Error(`No features were computed of the window ${kind} of ${patient}`);
    const window = {
      startHours: (one.start - start) / HOUR_MS,
      endHours: (one.end - start) / HOUR_MS,
      endsBy: one.endsBy,
      features: computed,
    };
    return { patient, kind, day, window };
  });
}

import type { Cleaning } from '../../clean/clean.js';
import type { CohortRow } from '../../ingest/tables/cohort.js';
import type { Interval } from '../../recording/interval.js';
import { cutTo } from '../../recording/pieces.js';
import { type Recording, rawSignal } from '../../recording/recording.js';
import type { Signal } from '../../recording/signal.js';
import { clockLagIn } from '../of-cpp.js';
import type { SummarizeSettings } from '../summarize.js';
import { totalsOver } from '../window-totals.js';
import { burdenFeatures } from './burden-features.js';
import { type CountRule, episodeCounts } from './episode-counts.js';
import { featureRowsOf } from './feature-rows.js';
import {
  CPP_INTENSITIES_MMHG,
  DURATIONS_MINUTES,
  firstResolvable,
  ICP_INTENSITIES_MMHG,
} from './intensity-grid.js';
import type { ChannelGrid, PatientStudy } from './patient-study.js';
import type { PatientStudySettings } from './study-settings.js';
import { type StudySignals, studySignals } from './study-signals.js';
import { studyWindows, type WindowRow } from './study-windows.js';

/** What of the cohort table the figures of one patient hang on: the outcome is none of it. */
export type StudyRow = WindowRow & Pick<CohortRow, 'therapyIntensity'>;

/** From the first sample of ICP as exported to the last; null where there are none. */
function extentOfIcp(recording: Recording): Interval | null {
  const { times } = rawSignal(recording, 'icp');
  return times.length === 0 ? null : { start: times[0], end: times[times.length - 1] };
}

/** Why PRx cannot be read: it correlates what was measured at the same time, and clocks that are apart pair what was not. */
function whyNoPrx(recording: Recording, cleaning: Cleaning, window: Interval): string | null {
  const { isApart, lagSeconds } = clockLagIn(recording, cleaning, window);
  return isApart && lagSeconds !== null
    ? `the clocks of ICP and MAP may be apart by ${Math.round(Math.abs(lagSeconds))} s`
    : null;
}

function gridOf(
  signal: Signal,
  window: Interval,
  intensities: readonly number[],
  intervalMs: number,
  rule: CountRule,
): ChannelGrid | null {
  const monitoredHours = totalsOver(signal, [window], [], false)[0].sums.hours;
  if (monitoredHours <= 0) return null;
  return {
    counts: episodeCounts(cutTo(signal, window), intensities, DURATIONS_MINUTES, rule),
    monitoredHours,
    firstDuration: firstResolvable(intervalMs, DURATIONS_MINUTES),
  };
}

function gridsOf(
  { signals, intervalMs }: StudySignals,
  window: Interval,
  { icpEpisodes, cppEpisodes }: Pick<SummarizeSettings, 'icpEpisodes' | 'cppEpisodes'>,
): PatientStudy['grids'] {
  const ofBoth = Math.max(intervalMs.icp, intervalMs.map);
  return {
    icp: gridOf(signals.icp, window, ICP_INTENSITIES_MMHG, intervalMs.icp, icpEpisodes),
    cpp: gridOf(signals.cpp, window, CPP_INTENSITIES_MMHG, ofBoth, cppEpisodes),
  };
}

/**
 * What one recording brings to a study: its features over the primary window, the stay and days since injury, and how many
 * episodes of each intensity and duration the primary window holds.
 *
 * @param row of the cohort table; null for a patient who is not in it
 */
export function studyRecording(
  recording: Recording,
  cleaning: Cleaning,
  row: StudyRow | null,
  summarize: SummarizeSettings,
  { primaryHours, levels, hasOptimal }: PatientStudySettings,
): PatientStudy {
  const windows = studyWindows(extentOfIcp(recording), row, { primaryHours });
  const { primary, stay } = windows;
  const study = studySignals(recording, cleaning, summarize.levelling, {
    hasOptimal,
    whyNoPrx: 'reason' in stay ? null : whyNoPrx(recording, cleaning, stay),
    therapyIntensity: row?.therapyIntensity ?? null,
  });
  const rows = featureRowsOf(recording.id, windows, (all) =>
    burdenFeatures(study, all, summarize.icpEpisodes, levels),
  );
  const isIn = !('reason' in primary);
  const hours = isIn ? totalsOver(study.signals.icp, [primary], [], false)[0].sums.hours : 0;
  return {
    id: recording.id,
    rows,
    grids: isIn ? gridsOf(study, primary, summarize) : { icp: null, cpp: null },
    startMs: 'reason' in stay ? null : stay.start,
    primaryIcpHours: hours,
    remarks: windows.remarks,
  };
}

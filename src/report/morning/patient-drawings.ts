import type { Mark } from '../../clean/rule.js';
import type { Interval } from '../../recording/interval.js';
import { type Recording, rawSignal } from '../../recording/recording.js';
import type { ZoneClock } from '../../recording/zone.js';
import type { RecordingSummary } from '../../summarize/summarize.js';
import type { Targets } from '../../summarize/targets.js';
import type { Bedside } from '../bedside.js';
import { cleaningStripSpec } from '../charts/cleaning-strip.js';
import { differenceSpec } from '../charts/difference-chart.js';
import { overviewSpec } from '../charts/period-overview.js';
import { removalPictureSpec } from '../charts/removal-picture.js';
import type { Draw } from '../charts/spec.js';
import type { RecordingResult } from '../results-schema.js';
import { furtherExcursions } from './removal-list.js';
import { stripRows } from './strip-rows.js';

/** More further excursions than this are listed without pictures, for the sake of the page. */
const MOST_FURTHER_PICTURES = 5;

/** The charts of a patient's page, as SVG. */
export interface PatientDrawings {
  readonly overview: string;
  /** A strip of each episode, by its start. */
  readonly episodes: ReadonlyMap<string, string>;
  /** What was taken where; null where nothing was. */
  readonly cleaningStrip: string | null;
  /** A small picture of a removal, by its start. */
  readonly removals: ReadonlyMap<string, string>;
  /** Difference of two sources of ICP; null where there is none. */
  readonly difference: string | null;
}

/** What the charts are drawn from. */
export interface DrawingInput {
  readonly recording: Recording;
  readonly marks: readonly Mark[];
  readonly summary: RecordingSummary;
  readonly bedside: Bedside;
  readonly result: RecordingResult;
  readonly period: Interval;
  readonly clock: ZoneClock;
  readonly targets: Targets;
}

/** Draws everything that a patient's page shows. */
export async function drawPatient(input: DrawingInput, draw: Draw): Promise<PatientDrawings> {
  const { recording, marks, summary, result, period, clock, targets } = input;
  const rawIcp = rawSignal(recording, 'icp');
  const overview = overviewSpec({
    period,
    clock,
    signals: summary.signals,
    rawIcp,
    rawMap: rawSignal(recording, 'map'),
    marks: summary.marks,
    episodes: summary.episodes,
    suspect: summary.trust.suspect,
    targets,
  });
  const rows = stripRows(result);
  const further = furtherExcursions(result);
  const pictured = [
    ...result.largestRemovals,
    ...(further.length <= MOST_FURTHER_PICTURES ? further : []),
  ].map(({ start }) => start);
  const pictures = summary.removals.flatMap((removal): [string, Promise<string>][] => {
    const start = clock.format(removal.start);
    const place = pictured.indexOf(start);
    if (place < 0) return [];
    const spec = removalPictureSpec({
      removal,
      icp: summary.signals.icp,
      rawIcp,
      marks,
      thresholdMmHg: targets.icpThresholdMmHg,
    });
    return [[start, draw(spec, `removal-${place + 1}`)]];
  });
  const { agreement } = summary;
  return {
    overview: await draw(overview, 'overview'),
    episodes: new Map(),
    cleaningStrip: rows.length === 0 ? null : await draw(cleaningStripSpec(rows, period, clock), 'taken'),
    removals: new Map(
      await Promise.all(pictures.map(async ([start, svg]) => [start, await svg] as [string, string])),
    ),
    difference:
      typeof agreement === 'string'
        ? null
        : await draw(differenceSpec(agreement, period, clock), 'difference'),
  };
}

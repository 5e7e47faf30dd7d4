import type { JSX } from 'preact';
import type { Interval } from '../../recording/interval.js';
import type { Targets } from '../../summarize/targets.js';
import { COLOURS } from '../charts/palette.js';
import { hatched, Key } from '../page/chart.js';
import type { RecordingResult } from '../results-schema.js';

/** `Dashed: 22 mmHg for ICP, 60 mmHg for CPP.` */
const dashedWords = (
  { monitoredHours }: RecordingResult,
  { icpThresholdMmHg, cppFloorMmHg }: Targets,
  more: readonly string[],
  cpp: string = `${cppFloorMmHg} mmHg for CPP`,
): string => {
  const ofCpp = monitoredHours.map > 0 ? [cpp] : [];
  return `Dashed: ${[`${icpThresholdMmHg} mmHg for ICP`, ...ofCpp, ...more].join(', ')}.`;
};

/** What the marks in the rows below the plot mean, as far as the window has them. */
export function laneWords(
  { alarms, entries, drainOpen }: RecordingResult['bedside'],
  window: Interval,
): string {
  const isSeen = (from: string, to: string): boolean =>
    Date.parse(from) <= window.end && Date.parse(to) >= window.start;
  const treatments = (entries ?? []).filter(
    ({ isTreatment, start, end }) => isTreatment && isSeen(start, end ?? start),
  );
  const marks: readonly (readonly [isThere: boolean, words: string])[] = [
    [(alarms ?? []).some(({ start, end }) => end !== null && isSeen(start, end)), 'bar: alarm'],
    [
      (alarms ?? []).some(({ start, end }) => end === null && isSeen(start, start)),
      'stroke and thin line: alarm whose end is not in the log',
    ],
    [
      (alarms ?? []).some(({ acknowledged: at }) => at !== null && isSeen(at, at)),
      'white circle: acknowledged',
    ],
    [treatments.length > 0, 'triangle: treatment'],
    [treatments.some(({ start, end }) => end !== null && end !== start), 'line: while it lasted'],
    // Without a closing the drain is drawn as open to the end of the data.
    [
      drainOpen.some(({ start, end }) => isSeen(start, end ?? new Date(window.end).toISOString())),
      'frame: drain open',
    ],
  ];
  const words = marks.flatMap(([isThere, what]) => (isThere ? [what] : []));
  return words.length === 0 ? '' : `In the rows below, ${words.join('; ')}.`;
}

/** Of what holds no samples, and of the drain beside the probe, no line is drawn. */
const isDrawnGrey = ({ channel, rule, grade }: RecordingResult['removed'][number]): boolean =>
  (channel === 'icp' || channel === 'map') && grade === 'removed' && rule !== 'disconnected';

/** The meaning of colours, strokes and marks in a chart of pressures over time. */
export function PressureKeys({
  result,
  targets,
  window,
  dashed = [],
  cppDashed,
}: {
  result: RecordingResult;
  targets: Targets;
  /** What the chart covers, milliseconds UTC. */
  window: Interval;
  /** What else is dashed, such as `0.25 for PRx`. */
  dashed?: readonly string[];
  /** What is dashed for CPP, where that is not its floor. */
  cppDashed?: string | undefined;
}): JSX.Element {
  return (
    <>
      {result.episodes.length > 0 && <Key colour={COLOURS.episode}>episode of high ICP</Key>}
      {result.removed.some(isDrawnGrey) && (
        <Key colour={COLOURS.removed} shape="line">
          left out by cleaning
        </Key>
      )}
      {result.suspect.length > 0 && <Key colour={hatched(COLOURS.suspect)}>suspect</Key>}
      {dashedWords(result, targets, dashed, cppDashed)} Gaps are missing data; a thick stroke at the edge:
      beyond the scale. {laneWords(result.bedside, window)}
    </>
  );
}

import type { JSX } from 'preact';
import type { Targets } from '../../summarize/targets.js';
import { COLOURS } from '../charts/palette.js';
import { hatched, Key } from '../page/chart.js';
import type { RecordingResult } from '../results-schema.js';

/** `Dashed: 22 mmHg for ICP, 60 mmHg for CPP.` */
const dashedWords = (
  { monitoredHours }: RecordingResult,
  { icpThresholdMmHg, cppFloorMmHg }: Targets,
): string =>
  `Dashed: ${icpThresholdMmHg} mmHg for ICP${monitoredHours.map > 0 ? `, ${cppFloorMmHg} mmHg for CPP` : ''}.`;

/** What the marks in the rows below the plot mean, as far as there are any. */
function laneWords({ bedside }: RecordingResult): string {
  const words = [
    ...((bedside.alarms ?? []).length > 0 ? ['bar: alarm, white circle: acknowledged'] : []),
    ...((bedside.alarms ?? []).some(({ end }) => end === null)
      ? ['stroke and thin line: alarm whose end is not in the log']
      : []),
    ...((bedside.entries ?? []).some(({ isTreatment }) => isTreatment)
      ? ['triangle: treatment, line: while it lasted']
      : []),
    ...(bedside.drainOpen.length > 0 ? ['frame: drain open'] : []),
  ];
  return words.length === 0 ? '' : `In the rows below, ${words.join('; ')}.`;
}

/** Of what holds no samples, and of the drain beside the probe, no line is drawn. */
const isDrawnGrey = ({ channel, rule, grade }: RecordingResult['removed'][number]): boolean =>
  (channel === 'icp' || channel === 'map') && grade === 'removed' && rule !== 'disconnected';

/** The meaning of colours, strokes and marks in a chart of pressures over time. */
export function PressureKeys({
  result,
  targets,
}: {
  result: RecordingResult;
  targets: Targets;
}): JSX.Element {
  return (
    <>
      {result.episodes.length > 0 && <Key colour={COLOURS.episode}>episode</Key>}
      {result.removed.some(isDrawnGrey) && (
        <Key colour={COLOURS.removed} shape="line">
          left out by cleaning
        </Key>
      )}
      {result.suspect.length > 0 && <Key colour={hatched(COLOURS.suspect)}>suspect</Key>}
      {dashedWords(result, targets)} Gaps are missing data; a thick stroke at the edge: beyond the scale.{' '}
      {laneWords(result)}
    </>
  );
}

import type { JSX } from 'preact';
import type { Targets } from '../../summarize/targets.js';
import type { RecordingResult } from '../results-schema.js';
import { counted, dose, duration, timesOf } from '../words.js';
import { otherBurden, printsSame } from './decision-words.js';
import { longestStretches, stretchTime, zeroMovesWords } from './probe-words.js';

/** So many stretches are told one by one on the morning page, the longest. */
const TOLD = 3;
/** And so many on the page in detail; the others stand in the table of marks. */
const MOST_IN_DETAIL = 50;

/** `All of them the other way, ICP would be above 22 mmHg for 3 h (dose 12.0 mmHg.h), not 2 h (10.0).` */
function otherWay({ suspect, icp, icpOtherWay }: RecordingResult, { icpThresholdMmHg }: Targets): string {
  if (icpOtherWay === null || icpOtherWay.hoursAboveThreshold === null) return '';
  const ways = new Set(suspect.map(({ direction }) => direction));
  const what = ways.size > 1 ? 'All taken the other way' : ways.has('down') ? 'Counted in' : 'Left out';
  const would = `${what}, ICP would be above ${icpThresholdMmHg} mmHg for`;
  const other = { hours: icpOtherWay.hoursAboveThreshold, dose: icpOtherWay.doseMmHgHours };
  const now = { hours: icp.hoursAboveThreshold, dose: icp.doseMmHgHours };
  if (printsSame(other, now)) {
    // Of a pulled probe both figures are low, and neither is the patient's.
    return suspect.every(({ direction }) => direction === 'down')
      ? 'What ICP was in that time no figure says, with it or without it.'
      : `${would} ${duration(other.hours)} (dose ${dose(other.dose)} mmHg·h), the same.`;
  }
  const asIs = now.hours === null ? '; as it stands, nothing is known of ICP' : '';
  return `${would} ${otherBurden(other, now)}${asIs}.`;
}

/** What was seen that may be the probe and not the patient: when, which way the figures go, and what is checked first. */
export function ProbeNote({
  result,
  targets,
  isInDetail,
}: {
  result: RecordingResult;
  targets: Targets;
  /** True on the page in detail, which names every stretch. */
  isInDetail: boolean;
}): JSX.Element | null {
  const { suspect, suspectHours, agreement } = result;
  const moves = agreement?.zeroMoves ?? [];
  if (suspect.length + moves.length === 0) return null;
  const at = timesOf(result.period);
  const told = longestStretches(suspect, isInDetail ? MOST_IN_DETAIL : TOLD);
  const rest = suspect.length - told.length;
  return (
    <section class="note">
      {suspect.length > 0 && (
        <>
          <p>
            <strong>Check the probe</strong>, as local protocol says. ICP is suspect for{' '}
            {duration(suspectHours)}. {otherWay(result, targets)}
          </p>
          <ul>
            {told.map((stretch) => (
              <li key={stretch.start}>
                {stretchTime(stretch, at)}: {stretch.seen.replace(/\.$/, '')}.{' '}
                <strong>
                  {stretch.direction === 'down' ? 'Left out of the figures.' : 'Stays in the figures.'}
                </strong>{' '}
                Usually checked first: {stretch.checkFirst}.
              </li>
            ))}
            {rest > 0 && (
              <li>
                And {counted(rest, 'shorter stretch', 'shorter stretches')},{' '}
                {isInDetail ? 'in tables/marked.csv' : 'on the detail page'}.
              </li>
            )}
          </ul>
        </>
      )}
      {agreement !== null && moves.length > 0 && (
        <p>
          <strong>A zero may have moved</strong>:{' '}
          {zeroMovesWords(agreement, at, isInDetail ? moves.length : undefined)}. See "Probe and drain"
          {isInDetail ? '' : ' on the detail page'}.
        </p>
      )}
    </section>
  );
}

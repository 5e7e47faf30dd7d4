import type { RecordingResult } from '../results-schema.js';
import { shortChannel } from '../short-channel.js';
import { counted, fromTo, timesOf } from '../words.js';

type Decision = RecordingResult['decisions'][number];

/** So many decisions are told one by one, the longest; the page in detail has all. */
const TOLD = 3;

const lengthOf = ({ start, end }: Decision): number => Date.parse(end) - Date.parse(start);

/** What became of a stretch by a person's decision. */
export const decisionText = ({ decision, direction }: Decision): string => {
  if (decision === 'suspect') return direction === 'up' ? 'suspect, stays in' : 'suspect, left out';
  return decision === 'keep' ? 'kept' : 'removed';
};

/** `ICP 01:40 to 02:30 kept (C. D.)`: when, what and by whom; the longest by time, and how many more. */
export function decisionLines({
  decisions,
  period,
}: Pick<RecordingResult, 'decisions' | 'period'>): string[] {
  const at = timesOf(period);
  const told = [...decisions]
    .sort((a, b) => lengthOf(b) - lengthOf(a))
    .slice(0, TOLD)
    .sort((a, b) => Date.parse(a.start) - Date.parse(b.start));
  const rest = decisions.length - told.length;
  return [
    ...told.map(
      (one) => `${shortChannel(one.channel)} ${fromTo(one, at)} ${decisionText(one)} (${one.reviewer})`,
    ),
    ...(rest > 0 ? [`${counted(rest, 'shorter one')} on the detail page`] : []),
  ];
}

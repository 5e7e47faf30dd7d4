import { REVIEWED } from '../../clean/decisions.js';
import type { ChannelKind } from '../../recording/channel.js';
import type { BarKind, StripBar, StripRow } from '../charts/cleaning-strip.js';
import type { RecordingResult } from '../results-schema.js';
import { shortRuleTitle } from '../rule-title.js';
import { shortChannel } from '../short-channel.js';

/** Short, since it stands beside the plot. */
const rowName = (channel: ChannelKind, rule: string): string =>
  `${shortChannel(channel)}: ${shortRuleTitle(rule)}`;

function kindOf({ grade, decidedBy }: RecordingResult['removed'][number]): BarKind {
  if (decidedBy === null) return grade;
  return grade === 'removed' ? 'decidedRemoved' : 'decidedSuspect';
}

/** The rows of the strip: a rule and channel each, in the order of the account, then what a person kept. */
export function stripRows({ cleaning, removed, decisions }: RecordingResult): StripRow[] {
  const rows = new Map<string, { name: string; bars: StripBar[] }>();
  const rowOf = (channel: ChannelKind, rule: string): { name: string; bars: StripBar[] } => {
    const name = rowName(channel, rule);
    const row = rows.get(name) ?? { name, bars: [] };
    rows.set(name, row);
    return row;
  };
  for (const { channel, rule } of cleaning.takes) rowOf(channel, rule);
  for (const mark of removed) {
    const bar = { start: Date.parse(mark.start), end: Date.parse(mark.end), kind: kindOf(mark) };
    rowOf(mark.channel, mark.rule).bars.push(bar);
  }
  for (const { channel, start, end, decision } of decisions) {
    if (decision !== 'keep') continue;
    const bar = { start: Date.parse(start), end: Date.parse(end), kind: 'decidedKept' } as const;
    rowOf(channel, REVIEWED).bars.push(bar);
  }
  return [...rows.values()].filter(({ bars }) => bars.length > 0);
}

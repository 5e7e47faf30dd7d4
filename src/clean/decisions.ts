import type { ChannelKind } from '../recording/channel.js';
import type { Interval } from '../recording/interval.js';
import type { Mark } from './rule.js';

/** The name that marks of a person's decision carry where others carry that of their rule. */
export const REVIEWED = 'reviewed';

/** `keep`: it is the patient. `remove`: it is not. `suspect`: it may be. */
export const DECISION_WORDS = ['keep', 'remove', 'suspect'] as const;
export type DecisionWord = (typeof DECISION_WORDS)[number];

/** What a person decided on a stretch of a channel; both ends are whole seconds, as tables write them. */
export interface Decision extends Interval {
  readonly channel: ChannelKind;
  readonly decision: DecisionWord;
  /** Only of suspect stretches: which way the values would be wrong. */
  readonly direction: 'down' | 'up' | null;
  /** Name or initials of who decided. */
  readonly reviewer: string;
}

/**
 * All instants that a table writes as one of a decision's seconds. Tables round to the nearest second, so that a mark
 * from 02:10:04.6 to 02:10:09.2 stands as 02:10:05 to 02:10:09, and a decision on that row has to reach all of it.
 */
export const reachOf = ({ start, end }: Interval): Interval => ({ start: start - 500, end: end + 499 });

/** True where two closed stretches share an instant. */
const touches = (a: Interval, b: Interval): boolean => a.start <= b.end && b.start <= a.end;

/** What remains of a closed stretch outside others, their ends left out too. */
function cut<T extends Interval>(stretch: T, cutters: readonly Interval[]): T[] {
  return cutters.reduce<T[]>(
    (parts, cutter) =>
      parts.flatMap((part) =>
        touches(part, cutter)
          ? [
              ...(part.start < cutter.start ? [{ ...part, end: cutter.start - 1 }] : []),
              ...(part.end > cutter.end ? [{ ...part, start: cutter.end + 1 }] : []),
            ].filter(({ start, end }) => start <= end)
          : [part],
      ),
    [stretch],
  );
}

/**
 * Lets a person's decisions win: inside a stretch that somebody decided no mark of any rule counts. What was kept is
 * left unmarked there, what was removed or called suspect is marked with the rule `reviewed` and the name of who
 * decided. Where a kept stretch meets another one, the instants that both hold are kept. Outside all of them marks stay
 * as they were, to 1 ms.
 *
 * @returns all marks by start; those of one instant rules first
 */
export function applyDecisions(marks: readonly Mark[], decisions: readonly Decision[]): Mark[] {
  const reached = decisions.map((decision) => ({ ...decision, ...reachOf(decision) }));
  const on = (channel: ChannelKind): Decision[] => reached.filter((one) => one.channel === channel);
  const rest = marks.flatMap((mark) => cut(mark, on(mark.channel)));
  const reviewed = reached
    .filter(({ decision }) => decision !== 'keep')
    .flatMap((decision) =>
      cut(
        markOf(decision),
        on(decision.channel).filter((other) => other.decision === 'keep'),
      ),
    );
  return [...rest, ...reviewed].sort((a, b) => a.start - b.start);
}

/** Names of the rules that had marked something of a stretch that somebody decided, in the order of their marks. */
export const overruled = (decision: Decision, undecided: readonly Mark[]): string[] => [
  ...new Set(
    undecided
      .filter(({ channel }) => channel === decision.channel)
      .filter((mark) => touches(mark, reachOf(decision)))
      .map(({ rule }) => rule),
  ),
];

const markOf = ({ channel, decision, direction, reviewer, start, end }: Decision): Mark => ({
  channel,
  rule: REVIEWED,
  grade: decision === 'remove' ? 'removed' : 'suspect',
  ...(direction === null || decision === 'remove' ? {} : { direction }),
  start,
  end,
  decidedBy: reviewer,
});

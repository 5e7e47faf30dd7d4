import { type Cleaning, staysIn } from '../clean/clean.js';
import { REVIEWED } from '../clean/decisions.js';
import type { Mark } from '../clean/rule.js';
import { RULES } from '../clean/rules.js';
import type { ChannelKind } from '../recording/channel.js';
import {
  type Interval,
  intersect,
  lengthMs,
  overlaps,
  subtract,
  totalMs,
  unite,
} from '../recording/interval.js';
import { type Recording, rawSignal } from '../recording/recording.js';
import { knownIntervals, withoutIntervals } from '../recording/signal.js';
import { HOUR_MS } from './hour.js';
import { headlineOf, LeaveOneOut, type RuleFigures } from './leave-one-out.js';
import type { Targets } from './targets.js';
import { monitoredHours } from './time.js';

/** What one rule took of one channel. */
export interface RuleTake {
  readonly channel: ChannelKind;
  readonly rule: string;
  readonly grade: 'removed' | 'suspect';
  /** Upward suspect stretches are named, but stay in the headline figures. */
  readonly staysIn: boolean;
  readonly intervals: number;
  /** Hours counted for this rule alone: the first in the list that took them. */
  readonly hours: number;
  readonly shareOfPeriod: number;
  /** Headline figures as they would be with this rule off, on whatever channel it took something. */
  readonly without: RuleFigures;
}

/** Where the time of the period went, for one channel. The shares of all rules, kept and no data add up to 1, and in a period of no length to 0. */
export interface ChannelAccount {
  readonly channel: ChannelKind;
  readonly keptHours: number;
  readonly noDataHours: number;
  readonly keptShare: number;
  readonly noDataShare: number;
}

/** The account of cleaning over a period. */
export interface CleaningAccount {
  readonly takes: readonly RuleTake[];
  readonly channels: readonly ChannelAccount[];
  /** Headline figures as the rules alone would have them; null where nobody decided anything in the period. */
  readonly withoutDecisions: RuleFigures | null;
}

/** Marks that one rule took of one channel with one grade and effect. */
interface Group {
  readonly channel: ChannelKind;
  readonly rule: string;
  readonly grade: 'removed' | 'suspect';
  readonly staysIn: boolean;
  readonly marks: readonly Mark[];
}

/** Groups in the order in which time is counted: removed before suspect, then a person's decisions before the list of rules. */
function groupsOf(marks: readonly Mark[]): Group[] {
  const groups = new Map<string, Group & { marks: Mark[] }>();
  for (const mark of marks) {
    const isIn = staysIn(mark);
    const key = `${mark.channel} ${mark.rule} ${mark.grade} ${isIn}`;
    const group = groups.get(key) ?? { ...mark, staysIn: isIn, marks: [] };
    group.marks.push(mark);
    groups.set(key, group);
  }
  const order = [REVIEWED, ...RULES.map(({ name }) => name)];
  const place = (group: Group): number =>
    (group.grade === 'removed' ? 0 : order.length) + order.indexOf(group.rule);
  return [...groups.values()].sort((a, b) => place(a) - place(b));
}

/**
 * Accounts for every second of a period: kept, taken by which rule, or never there.
 *
 * @param headline where the caller has it already
 */
export function cleaningAccount(
  recording: Recording,
  cleaning: Cleaning,
  period: Interval,
  targets: Targets,
  headline = headlineOf(recording, cleaning, period, targets),
): CleaningAccount {
  const periodHours = lengthMs(period) / HOUR_MS;
  /** Of a period of no length, as of a single row, nothing is a share. */
  const shareOf = (hours: number): number => (periodHours > 0 ? hours / periodHours : 0);
  const leaveOneOut = new LeaveOneOut(recording, cleaning, period, targets, headline);
  const takes: RuleTake[] = [];
  const channels: ChannelAccount[] = [];
  for (const channel of ['icp', 'icpDrain', 'map'] as const) {
    if (!recording.channels[channel]) continue;
    let left = rawSignal(recording, channel);
    let leftHours = monitoredHours(left, period);
    let noDataHours = periodHours - leftHours;
    for (const group of groupsOf(cleaning.marks.filter((mark) => mark.channel === channel))) {
      const inPeriod = group.marks.filter((mark) => overlaps(mark, period));
      let hours: number;
      if (group.rule === 'disconnected') {
        // Where the channel came more rarely than the rows, blanks stand in time that is known.
        const blank = intersect(unite(inPeriod), [period]);
        hours = totalMs(subtract(blank, knownIntervals(rawSignal(recording, channel)))) / HOUR_MS;
        noDataHours -= hours;
      } else if (group.staysIn) {
        hours = leftHours - monitoredHours(withoutIntervals(left, group.marks), period);
      } else {
        left = withoutIntervals(left, group.marks);
        const restHours = monitoredHours(left, period);
        hours = leftHours - restHours;
        leftHours = restHours;
      }
      // A mark beside the period still takes the piece that reaches from its last sample into it.
      if (inPeriod.length === 0 && hours === 0) continue;
      takes.push({
        channel,
        rule: group.rule,
        grade: group.grade,
        staysIn: group.staysIn,
        intervals: inPeriod.length,
        hours,
        shareOfPeriod: shareOf(hours),
        without: leaveOneOut.without(group.rule),
      });
    }
    channels.push({
      channel,
      keptHours: leftHours,
      noDataHours,
      keptShare: shareOf(leftHours),
      noDataShare: shareOf(noDataHours),
    });
  }
  const isDecided = cleaning.decided?.some((decision) => overlaps(decision, period)) ?? false;
  return {
    takes,
    channels,
    withoutDecisions: isDecided ? leaveOneOut.without(REVIEWED) : null,
  };
}

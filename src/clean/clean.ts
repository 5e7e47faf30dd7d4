import type { ChannelKind } from '../recording/channel.js';
import { type Recording, rawSignal } from '../recording/recording.js';
import { type Signal, withoutIntervals } from '../recording/signal.js';
import { applyDecisions, type Decision, REVIEWED } from './decisions.js';
import type { Mark } from './rule.js';
import { RULES } from './rules.js';

/** Parameters by rule name; a rule that is missing here is off. */
export type CleanSettings = Readonly<Record<string, object>>;

/** What the rules, and a person where one decided, say of one recording. */
export interface Cleaning {
  /** By start, then by the order of the rules; a person's decisions have won. */
  readonly marks: readonly Mark[];
  /** Names of the rules that were on, in their order. */
  readonly rulesOn: readonly string[];
  /** Rules that could not work on a channel, and why. */
  readonly stoodAside: readonly { readonly rule: string; readonly why: string }[];
  /** What a person decided; left out where nobody did. */
  readonly decided?: readonly Decision[] | undefined;
  /** Marks of the rules alone, as if nobody had decided; left out where nobody did. */
  readonly undecided?: readonly Mark[] | undefined;
}

/** Runs every rule that is on over the recording as it came; decisions win over what the rules say. */
export function clean(
  recording: Recording,
  settings: CleanSettings,
  decisions: readonly Decision[] = [],
): Cleaning {
  const marks: Mark[] = [];
  const stoodAside: { rule: string; why: string }[] = [];
  const on = RULES.filter(
    ({ name, needsWaveform }) =>
      settings[name] !== undefined && (!needsWaveform || recording.waveform !== undefined),
  );
  for (const { name, find } of on) {
    const finding = find(recording, settings[name]);
    marks.push(...finding.marks);
    stoodAside.push(...finding.stoodAside.map((why) => ({ rule: name, why })));
  }
  marks.sort((a, b) => a.start - b.start);
  const rulesOn = on.map(({ name }) => name);
  if (decisions.length === 0) return { marks, rulesOn, stoodAside };
  return {
    marks: applyDecisions(marks, decisions),
    rulesOn,
    stoodAside,
    decided: decisions,
    undecided: marks,
  };
}

/** Which suspect stretches are left out, beside all that was removed. */
export type Reading =
  /** Downward ones out, upward ones and those of MAP that have to be kept in: the headline figures. */
  | 'headline'
  /** The other way round: the figure that stands beside. */
  | 'otherWay';

/** True where a suspect stretch stays in the headline figures, and is left out the other way. */
export const staysIn = ({ grade, direction, isKept }: Mark): boolean =>
  grade === 'suspect' && (direction === 'up' || isKept === true);

const leavesOut = (reading: Reading, mark: Mark): boolean =>
  mark.grade === 'removed' || staysIn(mark) === (reading === 'otherWay');

/** The marks that a reading leaves out of a channel. */
export const leftOut = (marks: readonly Mark[], channel: ChannelKind, reading: Reading): Mark[] =>
  marks.filter((mark) => mark.channel === channel && leavesOut(reading, mark));

/**
 * A channel as the measures see it.
 *
 * @param withoutRule leave the marks of one rule aside, as if it were off; without `reviewed` nobody has decided anything
 */
export function cleanedSignal(
  recording: Recording,
  channel: ChannelKind,
  { marks, undecided }: Cleaning,
  reading: Reading = 'headline',
  withoutRule?: string,
): Signal {
  const counted = withoutRule === REVIEWED ? (undecided ?? marks) : marks;
  const out = leftOut(counted, channel, reading).filter((mark) => mark.rule !== withoutRule);
  return withoutIntervals(rawSignal(recording, channel), out);
}

import { type Cleaning, cleanedSignal } from '../clean/clean.js';
import { REVIEWED } from '../clean/decisions.js';
import type { ChannelKind } from '../recording/channel.js';
import { type Interval, overlaps } from '../recording/interval.js';
import type { Recording } from '../recording/recording.js';
import type { Signal } from '../recording/signal.js';
import { monitoredHours } from '../summarize/time.js';
import { trustIn } from '../summarize/trust.js';
import type { RecordingResult } from './results-schema.js';

type Effect = NonNullable<RecordingResult['cleaning']['decisionEffect']>;

/** Hours over which one of two signals of the same samples is known and the other is not. */
function hoursOnlyIn(one: Signal, other: Signal, period: Interval): number {
  const known = one.known.slice();
  for (let i = 0; i < known.length; i++) known[i] &= 1 - other.known[i];
  return monitoredHours({ ...one, known }, period);
}

/** What a person's decisions took out of the headline figures or put into them, against the rules alone; null where nobody decided anything in the period. */
export function decisionEffect(recording: Recording, cleaning: Cleaning, period: Interval): Effect | null {
  const { decided = [], undecided = [] } = cleaning;
  if (!decided.some((decision) => overlaps(decision, period))) return null;
  const change = (channel: ChannelKind): { out: number; in: number; byRules: Signal } => {
    const byRules = cleanedSignal(recording, channel, cleaning, 'headline', REVIEWED);
    const now = cleanedSignal(recording, channel, cleaning);
    return { out: hoursOnlyIn(byRules, now, period), in: hoursOnlyIn(now, byRules, period), byRules };
  };
  const [icp, map] = [change('icp'), change('map')];
  const marks = undecided.filter((mark) => overlaps(mark, period));
  const { knownShare, suspectHours, cannotSay } = trustIn(marks, monitoredHours(icp.byRules, period), period);
  return {
    icpOutHours: icp.out,
    icpInHours: icp.in,
    mapOutHours: map.out,
    mapInHours: map.in,
    knownShareByRules: knownShare,
    suspectHoursByRules: suspectHours,
    cannotSayByRules: [...cannotSay],
  };
}

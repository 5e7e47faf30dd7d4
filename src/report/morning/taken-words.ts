import { REVIEWED } from '../../clean/decisions.js';
import type { RecordingResult } from '../results-schema.js';
import { shortRuleTitle } from '../rule-title.js';
import { shortChannel } from '../short-channel.js';
import { counted, listed, seconds } from '../words.js';
import { reviewersOf } from './decision-words.js';

type Take = RecordingResult['cleaning']['takes'][number];

function takeWords({ channel, rule, intervals, hours }: Take, who: string): string {
  const what = rule === REVIEWED ? `decided by ${who}` : shortRuleTitle(rule);
  return `${shortChannel(channel)} ${seconds(hours * 3_600_000)} (${what}, ${counted(intervals, 'time')})`;
}

/** `Left out: ICP 9 min 1 s (brief spikes, 34 times).`; empty where nothing was. */
export function takenWords({ cleaning, decisions }: RecordingResult): string {
  const who = reviewersOf(decisions);
  const out = cleaning.takes.filter(({ staysIn, hours }) => !staysIn && hours > 0);
  return out.length === 0 ? '' : `Left out: ${listed(out.map((take) => takeWords(take, who)))}.`;
}

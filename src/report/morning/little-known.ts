import { REVIEWED } from '../../clean/decisions.js';
import type { UnitRecording } from '../results-schema.js';
import { shortRuleTitle } from '../rule-title.js';
import { share } from '../words.js';
import { reviewersOf } from './decision-words.js';

type Take = UnitRecording['cleaning']['takes'][number];

function takenBy({ rule, grade, shareOfPeriod }: Take, { decisions }: UnitRecording): string {
  const part = share(shareOfPeriod);
  if (rule === REVIEWED) {
    const word = grade === 'removed' ? 'remove' : 'suspect';
    const who = reviewersOf(decisions.filter((one) => one.channel === 'icp' && one.decision === word));
    return grade === 'removed'
      ? `${who} removed ${part}`
      : `${who} called ${part} suspect, which is left out`;
  }
  if (rule === 'disconnected') return `blanks or missing marks stood for ${part}`;
  const title = `the rule "${shortRuleTitle(rule)}"`;
  return grade === 'removed' ? `${title} took ${part}` : `${title} called ${part} suspect, which is left out`;
}

/**
 * What took most of the time over which ICP is not known: `the rule "flat line" took 97 %`. Where it would be known for
 * half of the period or more without a person's decisions, that is said, with who decided.
 */
export function littleKnownWhy(result: UnitRecording): string {
  const { takes, channels, decisionEffect } = result.cleaning;
  const taken = takes.filter((take) => take.channel === 'icp' && !take.staysIn);
  const noData = channels.find(({ channel }) => channel === 'icp')?.noDataShare ?? 0;
  const byPerson =
    decisionEffect !== null && !decisionEffect.cannotSayByRules.includes('littleKnown')
      ? decisionEffect
      : null;
  const named = byPerson === null ? taken : taken.filter(({ rule }) => rule === REVIEWED);
  const parts = [
    ...named.map((take) => ({ part: take.shareOfPeriod, words: takenBy(take, result) })),
    ...(byPerson === null ? [{ part: noData, words: `there were no data for ${share(noData)}` }] : []),
  ].filter(({ part }) => part > 0);
  if (parts.length === 0) return '';
  const { words } = parts.reduce((a, b) => (b.part > a.part ? b : a));
  return byPerson === null
    ? words
    : `${words}; by the rules alone it would be known for ${share(byPerson.knownShareByRules)}`;
}

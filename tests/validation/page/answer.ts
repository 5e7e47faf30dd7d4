import { isTrivial } from '../aggregate/kinds.js';
import type { SamplingSummary } from '../aggregate/summary.js';
import { isFound, lostShare, secondShare } from '../aggregate/targets.js';
import type { ValidationResults } from '../results.js';
import { percent, samplingName } from '../words.js';
import { titleOf } from './titles.js';

function sampling(summary: SamplingSummary): string {
  const { samplingSeconds, removable, high, dose, episodes } = summary;
  return `At ${samplingName(samplingSeconds)}, ${percent(secondShare(removable))} of the time of artifacts is removed, ${percent(lostShare(high))} of true hypertension is lost, and dose is off by ${percent(dose.high.cleaned.median)} in the median (${percent(dose.high.raw.median)} before cleaning); of ${episodes.plainEpisodes} plain episodes ${episodes.missed === 0 ? 'none is' : `${episodes.missed} ${episodes.missed === 1 ? 'is' : 'are'}`} missed.`;
}

/** The whole report in a few sentences, what fails included. */
export function answerOf({ samplings, verdicts }: ValidationResults): string {
  const [second] = samplings;
  const coarse = samplings.find(({ samplingSeconds }) => samplingSeconds === 15);
  const missing = second.kinds.filter((kind) => !isTrivial(kind) && !isFound(kind));
  const names = [...new Set(missing.map(({ kind }) => titleOf(kind)))];
  const failed = verdicts.filter(({ met }) => met === false).length;
  const judged = verdicts.filter(({ met }) => met !== null).length;
  return [
    sampling(second),
    coarse ? sampling(coarse) : '',
    names.length === 0
      ? 'Every kind of artifact is found at 1 s at least nine times in ten.'
      : `Found less than nine times in ten at 1 s: ${names.join(', ')}.`,
    failed === 0 ? `All ${judged} targets are met.` : `${failed} of ${judged} targets are not met.`,
  ]
    .filter(Boolean)
    .join(' ');
}

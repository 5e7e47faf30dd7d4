import type { JSX } from 'preact';
import { isTrivial, type KindSummary } from '../aggregate/kinds.js';
import type { SamplingSummary } from '../aggregate/summary.js';
import { eventShare, isFound } from '../aggregate/targets.js';
import { longTime, percent, placeOf, samplingName } from '../words.js';
import { COARSE, titleOf, whyNot } from './titles.js';

const examples = ({ worst }: KindSummary): string =>
  worst.map(({ seed, atSecond, seconds }) => `${placeOf(seed, atSecond)} (${longTime(seconds)})`).join(', ');

/** What is found too seldom at one sampling, why, and where to look. */
function Missing({ summary }: { summary: SamplingSummary }): JSX.Element {
  const missing = summary.kinds.filter((kind) => !isTrivial(kind) && !isFound(kind));
  const at = samplingName(summary.samplingSeconds);
  if (missing.length === 0) return <p>At {at} every kind is found often enough.</p>;
  return (
    <>
      <p>At {at}, less than 90 % of the events are marked of:</p>
      <ul>
        {missing.map((kind) => (
          <li key={`${kind.kind} ${kind.grade}`}>
            <strong>
              {titleOf(kind.kind)} (in truth {kind.grade}; {percent(eventShare(kind))} of events)
            </strong>
            . {whyNot(kind.kind, summary.samplingSeconds)} Longest without the mark that they should have:{' '}
            {examples(kind)}.
          </li>
        ))}
      </ul>
    </>
  );
}

/** What it cannot find and why, with examples that anyone can make again. */
export const Limits = ({ samplings }: { samplings: readonly SamplingSummary[] }): JSX.Element => (
  <section>
    <h2>What it cannot find, and why</h2>
    {samplings
      .filter(({ samplingSeconds }) => samplingSeconds === 1 || samplingSeconds === 15)
      .map((summary) => (
        <Missing key={summary.samplingSeconds} summary={summary} />
      ))}
    <p>{COARSE}</p>
  </section>
);

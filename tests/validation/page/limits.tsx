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
    <p>Why the other targets are not all met:</p>
    <ul>
      <li>
        <strong>True hypertension marked.</strong> Most of it lies behind a jump of the level or a zeroing
        that changed the level: afterwards either the reading is wrong or the one before was, and the export
        does not say which. Such a stretch is marked as suspect, so that the reader decides; here it counts as
        lost. At the ceiling of a channel the samples between those that are clipped count as lost too.
      </li>
      <li>
        <strong>Dose.</strong> See the table of what contributes most. What may be the patient stays in the
        headline where it is high, and the figure without it stands beside. Time that is not known was not
        like the rest of the stay, and no rule can mend that.
      </li>
      <li>
        <strong>Missed episodes</strong> lie in stretches that are left out as suspect, on channels that are
        lost for hours, or under long trains of coughs; they are listed above with the rule that marked them.
      </li>
      <li>
        <strong>Invented episodes</strong> are those of pushed or drifting probes and of wrong zeros: the
        reading itself is high. Where a rule could see it they are hatched.
      </li>
    </ul>
  </section>
);

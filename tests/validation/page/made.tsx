import type { JSX } from 'preact';
import { EVALUATION_SEEDS } from '../../../fixtures/labelled/evaluation-set.js';
import type { ValidationResults } from '../results.js';

const TUNED = {
  others:
    'rules were tuned on other seeds, and these were committed before they were first run, after the last change of a rule',
  these: 'these are the seeds on which rules are tuned, so the figures flatter them',
};

/** How the figures came about, and what they cannot say. */
export const Made = ({
  results: { patients, hoursEach, firstSeed, lastSeed },
}: {
  results: ValidationResults;
}): JSX.Element => (
  <section class="small">
    <h2>How it was made</h2>
    <p>
      All patients are invented: a seeded generator (fixtures/labelled, seeds {firstSeed} to {lastSeed}) drew{' '}
      {patients} of them, {hoursEach} h each, from wide ranges that stand in fixtures/labelled/ranges.ts and
      artifact-ranges.ts. The ranges were committed before any rule was tuned;{' '}
      {TUNED[EVALUATION_SEEDS.includes(firstSeed) ? 'others' : 'these']}. The truth is known for every second,
      so is what the monitor showed instead, and nothing in the generator reads a rule. Each patient is
      rendered at 1, 5, 15 and 60 s as spot samples, half of them in whole numbers and half in tenths, with
      and without arterial line, pulse pressure, drain and care log.
    </p>
    <p>
      Every rule ran with its defaults. A sample stands for its interval and is labelled if an artifact covers
      its time; an artifact between two samples counts nowhere. Blanks, frozen values, an open drain and
      everything that in truth is suspect make seconds lost: the true dose and the true episodes are those of
      the rest, so an episode under a pushed probe counts as invented. The first part of a drift, within 2
      mmHg of the truth, counts neither as artifact nor as truth.
    </p>
    <p>
      Real recordings are not like this in ways that nobody has drawn here. The figures say how far the rules
      do what they were made for, not how they do in a given unit: look at the removed stretches of your own
      reports. Every row that this page was computed from stands in tables/*.csv, described in
      tables/dictionary.csv; results.json holds the figures unrounded. `npm run validate` makes it again, and
      `npm run validate -- --kind cough --worst 10` shows examples with their values.
    </p>
  </section>
);

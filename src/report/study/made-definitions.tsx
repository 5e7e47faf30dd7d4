import type { JSX } from 'preact';
import { Roomy } from '../audit/roomy.js';
import { Table } from '../page/table.js';
import type { StudyResult } from '../results-study.js';
import { stepText, withUnit } from './study-numbers.js';

/** What each chosen feature is, with the step of its odds ratios and the key that it has in tables. */
export const ChosenDefinitions = ({ asked }: Pick<StudyResult, 'asked'>): JSX.Element => (
  <Table
    kind="wraps"
    caption="The chosen features"
    columns={[
      { head: 'Feature' },
      { head: 'Odds ratios' },
      { head: 'What it is, and the source' },
      { head: 'Key in tables' },
    ]}
    rows={asked.chosen.map((feature) => ({
      key: feature.key,
      cells: [
        withUnit(feature),
        stepText(feature),
        <Roomy key="what">
          {feature.definition} Source: {feature.source}.
        </Roomy>,
        feature.key,
      ],
    }))}
  />
);

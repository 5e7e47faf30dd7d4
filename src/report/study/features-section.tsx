import type { JSX } from 'preact';
import { type Row, Table } from '../page/table.js';
import type { StudyOutcomeResult } from '../results-study-cohort.js';
import type { StudyFeatureResult } from '../results-study-features.js';
import { counted } from '../words.js';
import { Below } from './below.js';
import { sideLevels } from './outcome-words.js';
import { areaText, boundsText, pairsText, pText, spreadsText, withUnit } from './study-numbers.js';
import { WITH_NEXT } from './with-next.js';

const METHOD_WORDS = { exact: 'exact', normal: 'normal approx.' } as const;

/** Of how many patients the feature is known, why not of the others, and why there is no comparison or no interval. */
function noteOf({ known, missing, tests, area }: StudyFeatureResult): string {
  const without = missing.reduce((sum, { count }) => sum + count, 0);
  const why = missing.map(({ reason, count }) => `${reason} (${count})`).join('; ');
  const whyNone = tests.rankSum.pReason ?? area.reason;
  return [
    without === 0 ? '' : `Known of ${known} of ${counted(known + without, 'patient')}; missing: ${why}.`,
    whyNone === undefined ? '' : `${tests.rankSum.p === null ? 'Not compared' : 'No interval'}: ${whyNone}.`,
  ]
    .filter((text) => text !== '')
    .join(' ');
}

function rowOf(feature: StudyFeatureResult): Row {
  const { key, spread, tests, pairsHigher, rankSumMethod, area } = feature;
  const sides = [spread.favourable, spread.unfavourable];
  const words = spreadsText(sides);
  return {
    key,
    cells: [
      withUnit(feature),
      ...words.map(({ median, quartiles }, i) => (
        <Below
          key={`${key} ${i}`}
          value={median}
          lines={[quartiles, sides[i].missing === 0 ? '' : `known of ${sides[i].known}`]}
        />
      )),
      pairsText(pairsHigher),
      <Below
        key={`${key} p`}
        value={pText(tests.rankSum.p)}
        lines={[rankSumMethod === null ? '' : METHOD_WORDS[rankSumMethod]]}
      />,
      pText(tests.rankSum.holmP),
      <Below key={`${key} area`} value={areaText(area.value)} lines={[boundsText(area, areaText)]} />,
    ],
    note: noteOf(feature),
  };
}

/** Whether each chosen feature differs between the outcomes, without any model. */
export function FeaturesSection({
  features,
  outcome,
}: {
  features: readonly StudyFeatureResult[];
  outcome: Pick<StudyOutcomeResult, 'counts' | 'words'>;
}): JSX.Element {
  const { counts } = outcome;
  const asked = features.filter(({ tests }) => tests.rankSum.p !== null).length;
  return (
    <section>
      <h2>Burden by outcome</h2>
      <p style={WITH_NEXT}>
        Area: how often, of two patients with different outcomes, the one with the unfavourable outcome has
        the higher value; same values count one half. 0.50 is neither, and under it lower values go with the
        unfavourable outcome.
      </p>
      <Table
        kind="wraps"
        caption={`Median with quartiles by outcome; W and p of the rank sum test, p as it is and adjusted by Holm${asked === 0 ? '' : ` over ${counted(asked, 'feature')} with a test`}; area under the ROC curve with DeLong's 95 % interval`}
        columns={[
          { head: 'Feature' },
          ...(['favourable', 'unfavourable'] as const).map((side) => ({
            head: `${side === 'favourable' ? 'Favourable' : 'Unfavourable'} (${sideLevels(outcome, side)}), ${counts[side]}`,
            number: true,
          })),
          { head: 'W', number: true },
          { head: 'p', number: true },
          { head: 'p, Holm', number: true },
          { head: 'Area', number: true },
        ]}
        rows={features.map(rowOf)}
      />
    </section>
  );
}

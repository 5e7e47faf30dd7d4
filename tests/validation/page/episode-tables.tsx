import type { JSX } from 'preact';
import { Table } from '../../../src/report/page/table.js';
import { ruleTitle } from '../../../src/report/rule-title.js';
import { NONE } from '../../../src/report/words.js';
import type { SamplingSummary } from '../aggregate/summary.js';
import type { EpisodeRow } from '../measure/rows.js';
import { placeOf, samplingName } from '../words.js';
import { titleOf } from './titles.js';

/** So many are listed of one sampling; all of them stand in tables/episodes.csv. */
const LISTED = 12;

/** Episodes found, missed and invented, by sampling. */
export const EpisodeCounts = ({ samplings }: { samplings: readonly SamplingSummary[] }): JSX.Element => (
  <Table
    caption="A true episode is found where an episode overlaps it for at least half of the shorter of the two. Borderline: missed ones shorter than 6 min or less than 2 mmHg over; invented ones over a true stretch above 21 mmHg of 4 min or more. Hatched: marked as suspect over at least half of it."
    columns={[
      { head: 'Sampling' },
      { head: 'True', number: true },
      { head: 'of them plain', number: true },
      { head: 'Missed', number: true },
      { head: 'borderline', number: true },
      { head: 'missed by perfect cleaning', number: true },
      { head: 'Found', number: true },
      { head: 'Invented', number: true },
      { head: 'hatched', number: true },
      { head: 'borderline', number: true },
      { head: 'Patient-days', number: true },
    ]}
    rows={samplings.map(({ samplingSeconds, episodes }) => ({
      key: samplingName(samplingSeconds),
      cells: [
        samplingName(samplingSeconds),
        episodes.trueEpisodes,
        episodes.plainEpisodes,
        episodes.missed,
        episodes.missedBorderline,
        episodes.missedByIdeal,
        episodes.foundEpisodes,
        episodes.invented,
        episodes.inventedHatched,
        episodes.inventedBorderline,
        episodes.patientDays,
      ],
    }))}
  />
);

const inWords = (kinds: string): string => kinds.split(', ').map(titleOf).join(', ');

/** The longest missed and invented episodes of each sampling. */
export function EpisodeList({
  samplings,
  state,
}: {
  samplings: readonly SamplingSummary[];
  state: 'missed' | 'invented';
}): JSX.Element {
  const listed = samplings
    .filter(({ samplingSeconds }) => samplingSeconds !== null)
    .flatMap(({ wrongEpisodes }): EpisodeRow[] =>
      wrongEpisodes
        .filter((one) => one.state === state)
        .sort((a, b) => b.minutes - a.minutes || a.seed - b.seed)
        .slice(0, LISTED),
    );
  if (listed.length === 0) return <p>None was {state}.</p>;
  return (
    <Table
      caption={`${state === 'missed' ? 'Missed' : 'Invented'}, without borderline${state === 'missed' ? '' : ' and hatched'} ones: the ${LISTED} longest of each sampling.`}
      columns={[
        { head: 'Where' },
        { head: 'Sampling', number: true },
        { head: 'min', number: true },
        { head: 'Mean, mmHg', number: true },
        { head: 'What lies there in truth' },
        { head: 'Marked mostly by' },
      ]}
      rows={listed.map((one) => ({
        key: `${one.seed} ${one.startSecond} ${one.samplingSeconds}`,
        cells: [
          placeOf(one.seed, one.startSecond),
          samplingName(one.samplingSeconds),
          one.minutes.toFixed(1),
          one.meanMmHg.toFixed(1),
          inWords(one.truth),
          one.rule === '' ? NONE : ruleTitle(one.rule),
        ],
      }))}
    />
  );
}

import type { JSX } from 'preact';
import { episodeEnd, goingOnWords } from '../episode-end.js';
import { Table } from '../page/table.js';
import type { EpisodeResult, RecordingResult } from '../results-schema.js';
import { clockOffset, counted, dayAndTime, dose, duration, NONE, pressure } from '../words.js';
import { noEpisodeWords } from './no-episode-words.js';
import { MOST_EPISODES, worstEpisodes } from './worst-episodes.js';

interface EpisodeTableProps {
  readonly result: RecordingResult;
  readonly thresholdMmHg: number;
  readonly minMinutes: number;
  readonly word: string;
}

/** ` (start cut off)`: missing data hide where the episode began or ended; or ` (still above 22 mmHg at 07:00)`. */
export function cutWords(episode: EpisodeResult, result: RecordingResult, thresholdMmHg: number): string {
  const { openStart } = episode;
  const how = episodeEnd(episode, result);
  if (openStart && how === 'cut') return ' (cut at both ends)';
  const words = [
    ...(openStart ? ['start cut off'] : []),
    ...(how === 'cut' ? ['end cut off'] : []),
    ...(how === 'goingOn' ? [goingOnWords(result, thresholdMmHg)] : []),
  ];
  return words.length === 0 ? '' : ` (${words.join('; ')})`;
}

function leadWords({ result, thresholdMmHg, minMinutes, word }: EpisodeTableProps): string {
  const rule = `ICP above ${thresholdMmHg} mmHg for at least ${minMinutes} min; each as a whole, also where it began before the ${word}.`;
  const { length } = result.episodes;
  return length > MOST_EPISODES ? `The ${MOST_EPISODES} with the largest dose, of ${length}. ${rule}` : rule;
}

/** The worst episodes of the period by time, with the extreme samples as they stand. */
export function EpisodeTable(props: EpisodeTableProps): JSX.Element {
  const { result, thresholdMmHg, minMinutes } = props;
  const { episodes, decimals, episodesReason, undeterminedEpisodes } = result;
  return (
    <section class="together">
      <h2>Episodes</h2>
      {episodesReason !== null && <p>Episodes cannot be told: {episodesReason}.</p>}
      {episodesReason === null && episodes.length === 0 && (
        <p>{noEpisodeWords(result, thresholdMmHg, minMinutes)}</p>
      )}
      {episodes.length > 0 && (
        <Table
          caption={leadWords(props)}
          columns={[
            { head: 'Start' },
            { head: 'Length', number: true },
            { head: 'Highest single ICP, mmHg', number: true },
            { head: 'Mean ICP, mmHg', number: true },
            { head: 'Dose, mmHg·h', number: true },
            { head: 'Lowest single CPP, mmHg', number: true },
          ]}
          rows={worstEpisodes(episodes).map((episode) => ({
            key: episode.start,
            cells: [
              `${dayAndTime(episode.start)}${clockOffset(episode.start, result.period)}${cutWords(episode, result, thresholdMmHg)}`,
              duration(episode.minutes / 60),
              pressure(episode.highestMmHg, decimals.icp),
              pressure(episode.meanMmHg, decimals.icp),
              dose(episode.doseMmHgHours),
              episode.lowestCppMmHg === null ? NONE : pressure(episode.lowestCppMmHg, decimals.cpp),
            ],
          }))}
        />
      )}
      {undeterminedEpisodes > 0 && (
        <p class="small">
          {counted(undeterminedEpisodes, 'stretch', 'stretches')} above {thresholdMmHg} mmHg cut off by
          missing data and shorter than {minMinutes} min: undetermined, not counted.
        </p>
      )}
    </section>
  );
}

import type { JSX } from 'preact';
import { Table } from '../page/table.js';
import type { RecordingResult } from '../results-schema.js';
import { counted, dayAndTime, dose, duration, NONE, pressure } from '../words.js';

interface EpisodeTableProps {
  readonly result: RecordingResult;
  readonly thresholdMmHg: number;
  readonly minMinutes: number;
  readonly word: string;
}

/** Every episode of the period, with the extreme samples as they stand. */
export function EpisodeTable({ result, thresholdMmHg, minMinutes, word }: EpisodeTableProps): JSX.Element {
  const { episodes, decimals, episodesReason, undeterminedEpisodes } = result;
  const cut = (openStart: boolean, openEnd: boolean): string =>
    openStart && openEnd
      ? ' (cut at both ends)'
      : openStart
        ? ' (start cut off)'
        : openEnd
          ? ' (end cut off)'
          : '';
  return (
    <section>
      <h2>Episodes</h2>
      <p class="small">
        ICP above {thresholdMmHg} mmHg for at least {minMinutes} min; each as a whole, also where it began
        before the {word}.
      </p>
      {episodesReason !== null && <p>Episodes cannot be told: {episodesReason}.</p>}
      {episodesReason === null && episodes.length === 0 && <p>None.</p>}
      {episodes.length > 0 && (
        <Table
          columns={[
            { head: 'Start' },
            { head: 'Length', number: true },
            { head: 'Highest ICP, mmHg', number: true },
            { head: 'Mean ICP, mmHg', number: true },
            { head: 'Dose, mmHg·h', number: true },
            { head: 'Lowest CPP, mmHg', number: true },
          ]}
          rows={episodes.map((episode) => ({
            key: episode.start,
            cells: [
              `${dayAndTime(episode.start)}${cut(episode.openStart, episode.openEnd)}`,
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

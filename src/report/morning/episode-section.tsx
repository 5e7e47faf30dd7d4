import type { JSX } from 'preact';
import type { Interval } from '../../recording/interval.js';
import { episodeStripWindow } from '../charts/episode-window.js';
import { Chart } from '../page/chart.js';
import type { EpisodeResult } from '../results-schema.js';
import { dose, duration, fromTo, pressure, timesOf } from '../words.js';
import { type BedsideEvent, bedsideEvents, eventsAround, milliseconds } from './bedside-events.js';
import { BedsideTable } from './bedside-table.js';
import { eventWords } from './bedside-words.js';
import { PressureKeys } from './chart-keys.js';
import { cutWords } from './episode-table.js';
import { HourTable } from './hour-table.js';
import { noEpisodeWords } from './no-episode-words.js';
import type { PatientPageInput } from './patient-page-input.js';

/** `Highest sample 61.2 mmHg, mean 55.0; dose 10.4 mmHg·h; lowest CPP 31 mmHg.` */
function episodeWords(episode: EpisodeResult, { result: { decimals } }: PatientPageInput): string {
  const { highestMmHg, meanMmHg, doseMmHgHours, lowestCppMmHg } = episode;
  const cpp =
    lowestCppMmHg === null ? 'CPP not known' : `lowest CPP ${pressure(lowestCppMmHg, decimals.cpp)} mmHg`;
  return `Highest ICP ${pressure(highestMmHg, decimals.icp)} mmHg, mean ${pressure(meanMmHg, decimals.icp)} mmHg, dose ${dose(doseMmHgHours)} mmHg·h; ${cpp}.`;
}

const overlapping = <T extends { start: string; end: string }>(
  items: readonly T[],
  window: EpisodeResult,
): T[] =>
  items.filter(
    ({ start, end }) =>
      Date.parse(start) < Date.parse(window.end) && Date.parse(window.start) < Date.parse(end),
  );

/** One episode: figures, the strip from 10 min before to 20 min after, and what the logs say of that time. */
function Episode({
  episode,
  input,
  events,
}: {
  episode: EpisodeResult;
  input: PatientPageInput;
  events: readonly BedsideEvent[];
}): JSX.Element {
  const { result, targets, drawings } = input;
  const svg = drawings.episodes.get(episode.start);
  const times = fromTo(episode, timesOf(result.period));
  const words = episodeWords(episode, input);
  const around = eventsAround(events, episode);
  return (
    <section>
      <h3>
        {times}, {duration(episode.minutes / 60)}
        {cutWords(episode, result, targets.icpThresholdMmHg)}
      </h3>
      <p>{words}</p>
      {svg === undefined ? (
        <p class="small">Not drawn, for the sake of the page: the episodes of the largest dose are.</p>
      ) : (
        <Chart
          svg={svg}
          says={`${times}, from 10 min before to 20 min after. ${words} ${eventWords(around, result.period)}`.trim()}
          title={`${result.monitoredHours.map > 0 ? 'ICP and CPP' : 'ICP'}, from 10 min before to 20 min after, local time`}
          valuesTitle="The whole hours around it, as a table"
          values={<HourTable result={result} targets={targets} hours={overlapping(result.hours, episode)} />}
        />
      )}
      <BedsideTable events={around} period={result.period} />
    </section>
  );
}

/** From the start of the first strip to the end of the last: what their one key has to explain. */
function stripsExtent(episodes: readonly EpisodeResult[]): Interval {
  const windows = episodes.map((episode) => episodeStripWindow(milliseconds(episode)));
  return {
    start: Math.min(...windows.map(({ start }) => start)),
    end: Math.max(...windows.map(({ end }) => end)),
  };
}

/** Every episode with its strip. */
export function EpisodeSection(input: PatientPageInput): JSX.Element {
  const { result, targets, episodeMinutes } = input;
  const { episodes, episodesReason } = result;
  const events = bedsideEvents(result.bedside);
  return (
    <section>
      <h2>Episodes</h2>
      <p class="small">
        ICP above {targets.icpThresholdMmHg} mmHg for at least {episodeMinutes} min. Highest and lowest are
        single samples.{' '}
        {episodes.length > 0 && (
          <PressureKeys result={result} targets={targets} window={stripsExtent(episodes)} />
        )}
      </p>
      {episodesReason !== null && <p>Episodes cannot be told: {episodesReason}.</p>}
      {episodesReason === null && episodes.length === 0 && (
        <p>{noEpisodeWords(result, targets.icpThresholdMmHg, episodeMinutes)}</p>
      )}
      {episodes.map((episode) => (
        <Episode key={episode.start} episode={episode} input={input} events={events} />
      ))}
    </section>
  );
}

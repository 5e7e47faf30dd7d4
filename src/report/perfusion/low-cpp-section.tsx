import type { JSX } from 'preact';
import { episodeEnd } from '../episode-end.js';
import { Table } from '../page/table.js';
import type { RecordingResult } from '../results-schema.js';
import { counted, dose, duration, fromTo, listed, pressure, timesOf } from '../words.js';
import { belowTargetWords, hasOwnTarget } from './own-target.js';

/** So many episodes are listed, the largest doses; tables and results.json have all. */
const MOST_EPISODES = 12;

/** `below 60 mmHg`; where targets changed `below its target of the moment (60 mmHg, from 12 Feb 04:00 on 70 mmHg)`. */
function targetWords({ lowCpp: { targets }, period }: RecordingResult): string {
  const at = timesOf(period);
  if (targets.length < 2)
    return targets.length === 0 ? 'below its target' : `below ${targets[0].belowMmHg} mmHg`;
  const later = targets.slice(1).map(({ start, belowMmHg }) => `from ${at(start)} on ${belowMmHg} mmHg`);
  return `below its target of the moment (${targets[0].belowMmHg} mmHg, ${later.join(', ')})`;
}

/** ` Targets: cpp-targets.csv, lines 2 and 3.`; empty where no table says them. */
function sourceWords({ lowCpp: { targets } }: RecordingResult): string {
  const linesOf = new Map<string, number[]>();
  for (const { file, line } of targets) {
    if (file !== null && line !== null) linesOf.set(file, [...(linesOf.get(file) ?? []), line]);
  }
  const words = [...linesOf].map(
    ([file, lines]) => `${file}, ${lines.length === 1 ? 'line' : 'lines'} ${listed(lines.map(String))}`,
  );
  return words.length === 0 ? '' : ` Targets: ${words.join('; ')}.`;
}

/** How often CPP stayed low, in a sentence. */
export function lowCppSentence(result: RecordingResult): string {
  const { episodes, episodesReason, undeterminedEpisodes } = result.lowCpp;
  const below = targetWords(result);
  if (episodesReason !== null) return `Episodes of CPP ${below} cannot be told: ${episodesReason}.`;
  const cut =
    undeterminedEpisodes === 0
      ? ''
      : undeterminedEpisodes === 1
        ? ' One more stretch was cut off by missing data and is too short to tell.'
        : ` ${undeterminedEpisodes} more stretches were cut off by missing data and are too short to tell.`;
  const many =
    episodes.length === 0
      ? `No episode of CPP ${below}.`
      : `${counted(episodes.length, 'episode')} of CPP ${below}.`;
  const inAll = belowTargetWords(result);
  return `${many}${cut}${inAll === '' ? '' : ` In all, ${inAll}`}${sourceWords(result)}`;
}

type Episode = RecordingResult['lowCpp']['episodes'][number];

/** ` (start cut off; still low at the end)`: what missing data hide, and what was not over. */
function cutWords(episode: Episode, result: RecordingResult): string {
  const how = episodeEnd(episode, result);
  const words = [
    ...(episode.openStart ? ['start cut off'] : []),
    ...(how === 'cut' ? ['end cut off'] : []),
    ...(how === 'goingOn' ? ['still low at the end'] : []),
  ];
  return words.length === 0 ? '' : ` (${words.join('; ')})`;
}

/** Episodes of low CPP: how many, and the worst one by one. */
export function LowCppEpisodes({ result }: { result: RecordingResult }): JSX.Element {
  const { lowCpp, decimals, period } = result;
  const at = timesOf(period);
  const byTime = (a: { start: string }, b: { start: string }): number =>
    Date.parse(a.start) - Date.parse(b.start);
  const shown = lowCpp.episodes
    .toSorted((a, b) => b.doseMmHgHours - a.doseMmHgHours || byTime(a, b))
    .slice(0, MOST_EPISODES)
    .sort(byTime);
  const isCut = shown.length < lowCpp.episodes.length;
  return (
    <>
      <p>{lowCppSentence(result)}</p>
      {shown.length > 0 && (
        <Table
          caption={
            isCut ? `The ${shown.length} largest doses of ${lowCpp.episodes.length}, by time.` : undefined
          }
          columns={[
            { head: 'Low CPP' },
            { head: 'Length', number: true },
            { head: 'Lowest value, mmHg', number: true },
            { head: 'Mean, mmHg', number: true },
            { head: hasOwnTarget(result) ? 'Dose below its target, mmHg·h' : 'Dose, mmHg·h', number: true },
          ]}
          rows={shown.map((episode) => ({
            key: episode.start,
            cells: [
              `${fromTo(episode, at)}${cutWords(episode, result)}`,
              duration(episode.minutes / 60),
              pressure(episode.lowestMmHg, decimals.cpp),
              pressure(episode.meanMmHg, decimals.cpp),
              dose(episode.doseMmHgHours),
            ],
          }))}
        />
      )}
    </>
  );
}

import { rawSignal } from '../../recording/recording.js';
import type { EpisodeFigures } from '../../summarize/summarize.js';
import { cleaningStripSpec } from '../charts/cleaning-strip.js';
import { differenceSpec } from '../charts/difference-chart.js';
import { episodeStripSpec } from '../charts/episode-strip.js';
import { overviewSpec } from '../charts/period-overview.js';
import type { PressureInput } from '../charts/pressure-panels.js';
import { removalPictureSpec } from '../charts/removal-picture.js';
import { nightSpans } from '../charts/spans.js';
import type { Draw } from '../charts/spec.js';
import type { DrawnFrom } from '../patient-report.js';
import type { RecordingResult } from '../results-schema.js';
import { furtherExcursions } from './removal-list.js';
import { stripRows } from './strip-rows.js';

/** More further excursions than this are listed without pictures, for the sake of the page. */
const MOST_FURTHER_PICTURES = 5;
/** All strips of episodes together, characters: a page has to open at once, also after weeks of episodes. */
const MOST_STRIPS_SIZE = 1_500_000;

/** The charts of a patient's page, as SVG. */
export interface PatientDrawings {
  readonly overview: string;
  /** True where the charts over the period tell night from day. */
  readonly hasNights: boolean;
  /** A strip of an episode, by its start; of too many only those with the largest doses. */
  readonly episodes: ReadonlyMap<string, string>;
  /** What was taken where; null where nothing was. */
  readonly cleaningStrip: string | null;
  /** A small picture of a removal, by its start. */
  readonly removals: ReadonlyMap<string, string>;
  /** Difference of two sources of ICP; null where there is none. */
  readonly difference: string | null;
}

/** What the charts are drawn from. */
export interface DrawingInput extends DrawnFrom {
  readonly result: RecordingResult;
}

/** What charts of pressures are drawn from, for one patient. */
export const pressureInput = ({
  recording,
  summary,
  clock,
  targets,
  nights,
  bedside,
}: DrawnFrom): PressureInput => ({
  clock,
  signals: summary.signals,
  rawIcp: rawSignal(recording, 'icp'),
  rawMap: rawSignal(recording, 'map'),
  marks: summary.marks,
  episodes: summary.episodes,
  suspect: summary.trust.suspect,
  targets,
  nights,
  bedside,
});

/** Strips of episodes by their starts, in order of time: the largest doses first, as many as the page can hold. */
export async function drawEpisodes(
  pressures: PressureInput,
  episodes: readonly EpisodeFigures[],
  draw: Draw,
  mostSize = MOST_STRIPS_SIZE,
): Promise<Map<string, string>> {
  const drawn = new Map<EpisodeFigures, string>();
  let size = 0;
  for (const episode of episodes.toSorted((a, b) => b.doseMmHgHours - a.doseMmHgHours || a.start - b.start)) {
    const key = `episode-${episodes.indexOf(episode) + 1}`;
    const svg = await draw(episodeStripSpec({ ...pressures, episode }), key);
    size += svg.length;
    if (size > mostSize) break;
    drawn.set(episode, svg);
  }
  return new Map(
    episodes.flatMap((episode): [string, string][] => {
      const svg = drawn.get(episode);
      return svg === undefined ? [] : [[pressures.clock.format(episode.start), svg]];
    }),
  );
}

/** Draws everything that a patient's page shows. */
export async function drawPatient(input: DrawingInput, draw: Draw): Promise<PatientDrawings> {
  const { marks, summary, result, period, clock, targets, nights } = input;
  const pressures = pressureInput(input);
  const { rawIcp } = pressures;
  const rows = stripRows(result);
  const further = furtherExcursions(result);
  const pictured = [
    ...result.largestRemovals,
    ...(further.length <= MOST_FURTHER_PICTURES ? further : []),
  ].map(({ start }) => start);
  const pictures = summary.removals.flatMap((removal): [string, Promise<string>][] => {
    const start = clock.format(removal.start);
    const place = pictured.indexOf(start);
    if (place < 0) return [];
    const spec = removalPictureSpec({
      removal,
      icp: summary.signals.icp,
      rawIcp,
      marks,
      thresholdMmHg: targets.icpThresholdMmHg,
    });
    return [[start, draw(spec, `removal-${place + 1}`)]];
  });
  const { agreement } = summary;
  return {
    hasNights: nightSpans(nights, period).length > 0,
    overview: await draw(overviewSpec({ ...pressures, period }), 'overview'),
    episodes: await drawEpisodes(pressures, summary.episodes, draw),
    cleaningStrip:
      rows.length === 0 ? null : await draw(cleaningStripSpec(rows, period, clock, nights), 'taken'),
    removals: new Map(
      await Promise.all(pictures.map(async ([start, svg]) => [start, await svg] as [string, string])),
    ),
    difference:
      typeof agreement === 'string'
        ? null
        : await draw(differenceSpec(agreement, period, clock, nights), 'difference'),
  };
}

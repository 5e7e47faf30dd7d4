import type { StudyMapResult } from '../results-study-map.js';
import { counted, listed, NONE } from '../words.js';

export type MapForm = 'perDay' | 'count';
/** What both forms correlate with outcome. */
export const FORM_WORDS: Readonly<Record<MapForm, string>> = {
  perDay: 'episodes per monitored day',
  count: 'number of episodes',
};

const BETTER = 'better';
const WORSE = 'worse';
/** Intensities that tables have. */
const STEP_MMHG = 5;
/** So many changes along one intensity are named. */
const MOST_CHANGES = 3;

/** `ICP above`. */
export const sideWords = ({ channel, side }: StudyMapResult): string => `${channel.toUpperCase()} ${side}`;

const minutesWord = (minutes: number): string =>
  minutes < 10 ? minutes.toFixed(1).replace(/\.0$/, '') : minutes.toFixed(0);

/** Rows of the map that tables name. */
export const namedRows = ({ intensitiesMmHg }: StudyMapResult): number[] =>
  [...intensitiesMmHg.keys()].filter((k) => intensitiesMmHg[k] % STEP_MMHG === 0);

/** What one list says of one intensity. */
export const rowOf = <T>(list: readonly T[], { durationsMinutes }: StudyMapResult, k: number): readonly T[] =>
  list.slice(k * durationsMinutes.length, (k + 1) * durationsMinutes.length);

/** Durations that have a correlation: `3 to 257 min`, with a remark where some between them have none. */
function reach(durations: readonly number[], rho: readonly (number | null)[]): string {
  const there = [...rho.keys()].filter((d) => rho[d] !== null);
  const [first, last] = [there[0], there[there.length - 1]];
  const gaps = there.length < last - first + 1 ? ', some blank' : '';
  return first === last ? `${durations[first]} min` : `${durations[first]} to ${durations[last]} min${gaps}`;
}

/** How the sign goes along one intensity: `better up to 12 min, worse from there (3 to 360 min)`. */
export function alongWords(map: StudyMapResult, form: MapForm, k: number): string {
  const rho = rowOf(map[form].rho, map, k);
  const first = rho.find((value) => value !== null && value !== 0);
  const changes = map[form].zeroLine[k].minutes;
  if (rho.every((value) => value === null)) return NONE;
  const where = reach(map.durationsMinutes, rho);
  if (first === undefined || first === null) return `0 (${where})`;
  const [from, to] = first < 0 ? [WORSE, BETTER] : [BETTER, WORSE];
  if (changes.length === 0) return `${from} (${where})`;
  if (changes.length === 1) {
    return `${from} up to ${minutesWord(changes[0])} min, ${to} from there (${where})`;
  }
  const shown = changes.slice(0, MOST_CHANGES);
  const whole = shown.map(minutesWord);
  // Two changes close to each other are told apart.
  const named = new Set(whole).size < whole.length ? shown.map((at) => at.toFixed(1)) : whole;
  const more = changes.length - MOST_CHANGES;
  const at =
    more > 0
      ? `${named.join(', ')} min and ${more === 1 ? 'once' : `${more} times`} more`
      : `${listed(named)} min`;
  return `${from} at first, changing at ${at} (${where})`;
}

/** Cells of a map by what they say. */
export interface CellCounts {
  readonly cells: number;
  readonly known: number;
  readonly worse: number;
  readonly worseStable: number;
  readonly better: number;
  readonly betterStable: number;
}

export function cellCounts(map: StudyMapResult, form: MapForm): CellCounts {
  const { rho, isStable } = map[form];
  const many = (is: (value: number) => boolean, stable: boolean): number =>
    rho.filter((value, i) => value !== null && is(value) && (!stable || isStable[i])).length;
  return {
    cells: rho.length,
    known: many(() => true, false),
    worse: many((value) => value < 0, false),
    worseStable: many((value) => value < 0, true),
    better: many((value) => value > 0, false),
    betterStable: many((value) => value > 0, true),
  };
}

/** What a map says, in a sentence or two. */
export function mapAnswer(map: StudyMapResult): string {
  const who = `${counted(map.patients, 'patient')} with an outcome and ${map.channel.toUpperCase()}`;
  if (map.reason !== undefined) return `${sideWords(map)} (${who}): there is no map, since ${map.reason}.`;
  const { cells, known, worseStable, betterStable } = cellCounts(map, 'perDay');
  const stable = worseStable + betterStable;
  const all = stable === 1 ? 'it' : 'all of them';
  const directions =
    stable === 0
      ? ''
      : betterStable === 0
        ? `: in ${all} more episodes per day go with a worse outcome`
        : worseStable === 0
          ? `: in ${all} more episodes per day go with a better outcome`
          : `: in ${worseStable} of them more episodes per day go with a worse outcome, in ${betterStable} with a better one`;
  return `${sideWords(map)} (${who}): of ${cells} cells ${known} have a correlation, and ${stable === 0 ? 'none is' : stable === 1 ? '1 is' : `${stable} are`} stable${directions}.`;
}

/** Who is not behind all of the map. */
export function whoIsMissing(map: StudyMapResult): string {
  const { channel, patients, withoutChannel, durationsMinutes, cellPatients } = map;
  const name = channel.toUpperCase();
  const words: string[] = [];
  if (withoutChannel > 0) {
    words.push(
      `${counted(withoutChannel, 'patient has', 'patients have')} an outcome and no ${name} in the primary window, and ${withoutChannel === 1 ? 'is' : 'are'} not in this map.`,
    );
  }
  const all = rowOf(cellPatients, map, 0);
  const whole = all.indexOf(patients);
  if (patients > 0 && all[0] < patients) {
    const first = `Episodes of ${durationsMinutes[0]} min can be told of ${all[0] === 0 ? 'none' : all[0]} of the ${patients} patients`;
    words.push(
      whole < 0
        ? `${first}, and of some none of any duration: their values stand too far apart. A cell is of the patients of whom it can be told.`
        : `${first}, and of all from ${durationsMinutes[whole]} min on: values of the others stand too far apart for shorter ones. A cell is of the patients of whom it can be told.`,
    );
  }
  return words.join(' ');
}

/** The map of correlations for a reader who cannot see it. */
export function mapSays(map: StudyMapResult, form: MapForm): string {
  const { cells, known, worse, worseStable, better, betterStable } = cellCounts(map, form);
  const rows = namedRows(map).map(
    (k) =>
      `${map.intensitiesMmHg[k]} mmHg: ${alongWords(map, form, k).replace(NONE, 'blank for all durations')}`,
  );
  return `Correlation of the ${FORM_WORDS[form]} of ${sideWords(map)} an intensity, lasting at least a duration, with outcome. Of ${cells} cells ${known} have one: ${worse} with a worse outcome, ${worseStable} of them stable, ${better} with a better one, ${betterStable} of them stable. Along the durations: ${rows.join('; ')}.`;
}

/** The map of patients for a reader who cannot see it. */
export function patientsSay(map: StudyMapResult): string {
  const { durationsMinutes, intensitiesMmHg, withEpisode } = map;
  const places = [0, durationsMinutes.indexOf(60), durationsMinutes.length - 1].filter(
    (d, i, all) => d >= 0 && all.indexOf(d) === i,
  );
  const rows = namedRows(map).map((k) => {
    const own = rowOf(withEpisode, map, k);
    return `${intensitiesMmHg[k]} mmHg: ${listed(places.map((d) => `${own[d]} of ${durationsMinutes[d]} min`))}`;
  });
  return `Patients with such an episode of ${sideWords(map)} an intensity. ${rows.join('; ')}.`;
}

import type { RecordingResult, Results, WindowResult } from '../../src/report/results-schema.js';

/** Figures that are compared: numbers, texts and what stands in lists and objects of them. */
export type Tree = number | string | boolean | null | readonly Tree[] | { readonly [key: string]: Tree };

/** What is compared of one patient. Every other figure of results.json has no counterpart in the reference programs. */
export interface PatientFigures {
  readonly id: string;
  readonly [key: string]: Tree;
}

/** The parts of a reference program's results.json that hold figures are the same, without reasons for what is null. */
export interface ReferenceResults {
  readonly recordings: readonly PatientFigures[];
}

const withoutReasons = (figures: object): { [key: string]: Tree } =>
  Object.fromEntries(Object.entries(figures).filter(([key]) => !key.endsWith('Reason')));

const icpOf = (figures: RecordingResult['icp'] | null): Tree => figures && withoutReasons(figures);

const cppOf = (figures: RecordingResult['cpp'] | null): Tree =>
  figures && { ...withoutReasons(figures), bands: figures.bands.map(({ hours }) => hours) };

const windowOf = ({
  start,
  end,
  monitoredHours,
  icp,
  cpp,
  episodes,
  longestEpisodeMinutes,
}: WindowResult): Tree => ({
  start,
  end,
  monitoredHours,
  icp: icpOf(icp),
  cpp: cppOf(cpp),
  episodes,
  longestEpisodeMinutes,
});

/** Picks what is compared out of our results.json; `sha256` is that of the patient's file in run.json. */
export const ourFigures = (results: Results, sha256: ReadonlyMap<string, string>): PatientFigures[] =>
  results.recordings.map((one) => ({
    id: one.id,
    sha256: sha256.get(one.files[0].file) ?? null,
    start: one.start,
    end: one.end,
    monitoredHours: one.monitoredHours,
    icp: icpOf(one.icp),
    icpRaw: icpOf(one.icpRaw),
    icpOtherWay: icpOf(one.icpOtherWay),
    cpp: cppOf(one.cpp),
    cppRaw: cppOf(one.cppRaw),
    cppOtherWay: cppOf(one.cppOtherWay),
    hours: one.hours.map(windowOf),
    nights: one.nights.map(windowOf),
    episodes: one.episodes.map(({ channel: _, ...episode }) => withoutReasons(episode)),
    removed: byText(one.removed.map(({ channel, rule, start, end }) => ({ channel, rule, start, end }))),
    takes: byText(
      one.cleaning.takes.map(({ channel, rule, intervals, hours, without }) => ({
        channel,
        rule,
        intervals,
        hours,
        without,
      })),
    ),
  }));

/** Lists of marks in one order, whatever the order in which a program found them. */
const byText = <T extends { [key: string]: Tree }>(list: readonly T[]): T[] => {
  const key = ({ channel, rule, start = '' }: { [key: string]: Tree }): string =>
    `${channel} ${rule} ${start}`;
  return list.toSorted((a, b) => (key(a) < key(b) ? -1 : 1));
};

/** The figures of a reference program in the same order. */
export const referenceFigures = ({ recordings }: ReferenceResults): PatientFigures[] =>
  recordings.map((one) => ({ ...one, removed: byText(one.removed as []), takes: byText(one.takes as []) }));

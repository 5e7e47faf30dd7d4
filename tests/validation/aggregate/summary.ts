import { RULES } from '../../../src/clean/rules.js';
import { groupBy, sumOf } from '../group.js';
import type { EpisodeRow, RecordingRow, Rows, RuleRow } from '../measure/rows.js';
import { type Cause, causesOf } from './causes.js';
import { type DoseSummary, doseSummary } from './doses.js';
import { addUp, byKind, isLong, isTrivial, type KindSummary } from './kinds.js';

export interface EpisodeSummary {
  readonly patientDays: number;
  readonly trueEpisodes: number;
  readonly plainEpisodes: number;
  readonly missed: number;
  readonly missedBorderline: number;
  readonly missedByIdeal: number;
  readonly foundEpisodes: number;
  readonly invented: number;
  readonly inventedHatched: number;
  readonly inventedBorderline: number;
}

/** What one rule marked, over all patients. */
export type RuleSummary = Omit<RuleRow, 'seed' | 'samplingSeconds'>;

/** All measures at one sampling, or over all of them. */
export interface SamplingSummary {
  /** Null: all samplings together. */
  readonly samplingSeconds: number | null;
  readonly kinds: readonly KindSummary[];
  /** All kinds of a grade together, blanks left out. */
  readonly removable: KindSummary;
  /** The same without frozen values and open drains, which last for hours. */
  readonly removableBrief: KindSummary;
  readonly suspicious: KindSummary;
  readonly high: KindSummary;
  readonly highKinds: readonly KindSummary[];
  readonly quiet: KindSummary;
  readonly rules: readonly RuleSummary[];
  readonly dose: DoseSummary;
  /** What makes doses wrong; of one sampling. */
  readonly causes: readonly Cause[];
  readonly episodes: EpisodeSummary;
  /** Missed ones that are not borderline, and invented ones that are neither borderline nor hatched; of one sampling. */
  readonly wrongEpisodes: readonly EpisodeRow[];
}

function episodeSummary(rows: readonly RecordingRow[]): EpisodeSummary {
  const sum = (of: (row: RecordingRow) => number): number => sumOf(rows, of);
  return {
    patientDays: sum(({ days }) => days),
    trueEpisodes: sum((row) => row.trueEpisodes),
    plainEpisodes: sum((row) => row.plainEpisodes),
    missed: sum((row) => row.missed),
    missedBorderline: sum((row) => row.missedBorderline),
    missedByIdeal: sum((row) => row.missedByIdeal),
    foundEpisodes: sum((row) => row.foundEpisodes),
    invented: sum((row) => row.invented),
    inventedHatched: sum((row) => row.inventedHatched),
    inventedBorderline: sum((row) => row.inventedBorderline),
  };
}

function ruleSummaries(rows: readonly RuleRow[]): RuleSummary[] {
  const order = RULES.map(({ name }) => name);
  const groups = groupBy(rows, ({ channel, rule, grade }) => `${channel} ${rule} ${grade}`);
  return [...groups.values()]
    .map((group): RuleSummary => {
      const { channel, rule, grade } = group[0];
      return {
        channel,
        rule,
        grade,
        marks: sumOf(group, ({ marks }) => marks),
        secondsLabelled: sumOf(group, (row) => row.secondsLabelled),
        secondsHigh: sumOf(group, (row) => row.secondsHigh),
        secondsQuiet: sumOf(group, (row) => row.secondsQuiet),
      };
    })
    .sort(
      (a, b) =>
        order.indexOf(a.rule) - order.indexOf(b.rule) || (a.channel + a.grade < b.channel + b.grade ? -1 : 1),
    );
}

/** Computes all measures from the rows of one sampling, or of all. */
export function summarizeSampling(rows: Rows, samplingSeconds: number | null): SamplingSummary {
  const at = <T extends { readonly samplingSeconds: number }>(list: readonly T[]): T[] =>
    list.filter((row) => samplingSeconds === null || row.samplingSeconds === samplingSeconds);
  const kinds = at(rows.kinds);
  const artifacts = kinds.filter(({ what }) => what === 'artifact');
  const graded = (grade: string) => artifacts.filter((row) => row.grade === grade && !isTrivial(row));
  const high = kinds.filter(({ what }) => what === 'high');
  return {
    samplingSeconds,
    kinds: byKind(artifacts),
    removable: addUp(graded('removed'), 'all', 'removed'),
    removableBrief: addUp(
      graded('removed').filter((row) => !isLong(row)),
      'allBrief',
      'removed',
    ),
    suspicious: addUp(graded('suspect'), 'all', 'suspect'),
    high: addUp(high, 'high', ''),
    highKinds: byKind(high),
    quiet: addUp(
      kinds.filter(({ what }) => what === 'quiet'),
      'quiet',
      '',
    ),
    rules: ruleSummaries(at(rows.rules)),
    dose: doseSummary(at(rows.recordings)),
    causes: samplingSeconds === null ? [] : causesOf(at(rows.recordings), at(rows.excess)),
    episodes: episodeSummary(at(rows.recordings)),
    wrongEpisodes:
      samplingSeconds === null
        ? []
        : at(rows.episodes).filter(({ state }) => state === 'missed' || state === 'invented'),
  };
}

/** The tables of the validation report: what their columns hold, to CSV and back. */
import Papa from 'papaparse';
import { type TidyColumn, type TidyTable, tidyCsv } from '../../src/report/tables/tidy-table.js';
import type { EpisodeRow, ExcessRow, KindRow, RecordingRow, Rows, RuleRow } from './measure/rows.js';

const column = (name: string, unit: string, says: string): TidyColumn => ({ name, unit, says });

const WHERE = [
  column('seed', '', 'Which invented patient'),
  column('samplingSeconds', 's', 'Distance of samples'),
];

const KINDS: readonly TidyColumn[] = [
  ...WHERE,
  column(
    'what',
    '',
    'artifact; high: true ICP over 22 mmHg without a label; quiet: the rest without a label',
  ),
  column('kind', '', 'Kind of artifact, or of the true event that is on'),
  column('grade', '', 'Artifacts: what a reader who knew the truth would say'),
  column('events', '{events}', 'Artifacts'),
  column('eventsHolding', '{events}', 'Those that hold a sample'),
  column('eventsRemoved', '{events}', 'Those of which at least half of the samples are removed'),
  column('eventsSuspect', '{events}', 'The same, suspect and not removed'),
  column('eventsEither', '{events}', 'The same, either'),
  column('seconds', 's', 'Labelled, or true; a sample stands for its interval'),
  column('secondsRemoved', 's', 'Of them marked as removed'),
  column('secondsSuspect', 's', 'Of them marked as suspect and not removed'),
  column('worstAtSecond', 's', 'Start of the one that went wrong for longest, after the start'),
  column('worstSeconds', 's', 'For how long'),
  column('worstRule', '', 'True seconds: the rule that marked them'),
];

const RECORDINGS: readonly TidyColumn[] = [
  ...WHERE,
  column('resolutionMmHg', 'mm[Hg]', 'Step in which ICP is written'),
  column('days', 'd', 'Length'),
  column('trueHours', 'h', 'Time that is not lost'),
  column('trueDoseMmHgHours', 'mm[Hg].h', 'True dose above 22 mmHg over that time'),
  column('rawHours', 'h', 'Known before cleaning'),
  column('rawDoseMmHgHours', 'mm[Hg].h', 'Dose before cleaning'),
  column('cleanedHours', 'h', 'Known after cleaning, as in the headline'),
  column('cleanedDoseMmHgHours', 'mm[Hg].h', 'Dose after cleaning, as in the headline'),
  column('trustedHours', 'h', 'Known without anything that is marked'),
  column('trustedDoseMmHgHours', 'mm[Hg].h', 'Dose without anything that is marked'),
  column('idealHours', 'h', 'Known without exactly what is labelled'),
  column('idealDoseMmHgHours', 'mm[Hg].h', 'Dose without exactly what is labelled: perfect cleaning'),
  column('trueEpisodes', '{episodes}', 'Episodes of the truth, lost seconds unknown'),
  column(
    'plainEpisodes',
    '{episodes}',
    'Those of 6 min or more whose mean is 2 mmHg or more over the threshold',
  ),
  column('missed', '{episodes}', 'Plain ones that were missed'),
  column('missedBorderline', '{episodes}', 'Others that were missed'),
  column('missedByIdeal', '{episodes}', 'Plain ones that even perfect cleaning misses'),
  column('foundEpisodes', '{episodes}', 'Episodes found after cleaning'),
  column('invented', '{episodes}', 'Found ones that overlap no true one'),
  column('inventedHatched', '{episodes}', 'The same, marked suspect over half of them or more'),
  column('inventedBorderline', '{episodes}', 'The same, over a true stretch above 21 mmHg of 4 min or more'),
];

const EPISODES: readonly TidyColumn[] = [
  ...WHERE,
  column('state', '', 'missed, missedBorderline, invented, inventedHatched or inventedBorderline'),
  column('startSecond', 's', 'After the start'),
  column('minutes', 'min', 'From the first crossing to the last'),
  column('meanMmHg', 'mm[Hg]', 'Missed: of the truth; invented: of what was shown'),
  column('truth', '', 'Kinds that lie there, the longest first'),
  column('rule', '', 'Rule that marked most of it'),
];

const RULES: readonly TidyColumn[] = [
  ...WHERE,
  column('channel', '', 'icp, icpDrain or map'),
  column('rule', '', 'As in the pipeline file'),
  column('grade', '', 'removed or suspect'),
  column('marks', '{intervals}', 'Stretches'),
  column(
    'secondsLabelled',
    's',
    'Counted for this rule, the first that took them, and labelled as any artifact',
  ),
  column('secondsHigh', 's', 'The same, true ICP over 22 mmHg'),
  column('secondsQuiet', 's', 'The same, anything else'),
];

const table = (
  name: string,
  says: string,
  columns: readonly TidyColumn[],
  rows: readonly object[],
): TidyTable => ({
  name,
  says,
  columns,
  rows: rows as TidyTable['rows'],
});

const EXCESS: readonly TidyColumn[] = [
  ...WHERE,
  column('kind', '', 'Kind of artifact that stays in the headline'),
  column('isHatched', '', '1: marked as suspect; 0: not marked'),
  column('secondsKept', 's', 'Samples of it in the headline; each stands for its interval'),
  column('excessMmHgHours', 'mm[Hg].h', 'Dose above 22 mmHg over them as shown, minus the true one'),
];

/** The tables; a row of each names its patient first. */
export const tablesOf = ({ kinds, recordings, episodes, rules, excess }: Rows): TidyTable[] => [
  table('patients', 'A row a patient, sampling and kind', KINDS, kinds),
  table('recordings', 'A row a patient and sampling', RECORDINGS, recordings),
  table('episodes', 'A row a missed or invented episode', EPISODES, episodes),
  table('rules', 'A row a patient, sampling, channel, rule and grade', RULES, rules),
  table('excess', 'A row a patient, sampling and kind of artifact in the headline', EXCESS, excess),
];

/** The tables as files, by path below the report folder. */
export const csvFiles = (rows: Rows): Map<string, string> =>
  new Map(tablesOf(rows).map((one) => [`tables/${one.name}.csv`, tidyCsv(one)]));

const TEXT: ReadonlySet<string> = new Set([
  'what',
  'kind',
  'grade',
  'worstRule',
  'state',
  'truth',
  'rule',
  'channel',
]);

function rowsFrom<T>(csv: string): T[] {
  const parsed = Papa.parse<Record<string, string>>(csv, { header: true, skipEmptyLines: true });
  return parsed.data.map(
    (row) =>
      Object.fromEntries(
        Object.entries(row).map(([name, cell]) => [
          name,
          TEXT.has(name) ? cell : cell === '' ? null : Number(cell),
        ]),
      ) as T,
  );
}

/** Reads the tables back; `csvFiles` of the result is what was read. */
export const rowsFromCsv = (read: (path: string) => string): Rows => ({
  kinds: rowsFrom<KindRow>(read('tables/patients.csv')),
  recordings: rowsFrom<RecordingRow>(read('tables/recordings.csv')),
  episodes: rowsFrom<EpisodeRow>(read('tables/episodes.csv')),
  rules: rowsFrom<RuleRow>(read('tables/rules.csv')),
  excess: rowsFrom<ExcessRow>(read('tables/excess.csv')),
});

import { CHANNEL_NAMES } from '../../recording/channel.js';
import { counted, listed } from '../words.js';
import type { SharedLogAccount, SharingAccount } from './sharing-account.js';

/** The sentence that answers: what is in the folder, and under which times. */
export function sharingSentence({ patients, times }: SharingAccount): string {
  const how =
    times === 'elapsed'
      ? 'Times count from the start of monitoring, and no date is in it.'
      : "Each patient's dates are moved by a random number of days: not Safe Harbor.";
  return `${counted(patients.shared, 'patient')} under random codes. ${how}`;
}

const ofLog = (name: string, log: SharedLogAccount | null, why: string): string[] =>
  log === null
    ? []
    : [
        `${name}: ${counted(log.shared, 'entry', 'entries')} shared, ${log.leftOut} left out${log.leftOut > 0 ? ` (${why})` : ''}.`,
      ];

/** What was shared and what stayed behind, a sentence each. */
export function sharedWords(account: SharingAccount): string[] {
  const { patients, rows, channels, care, alarms, decisions, targets, cohort, keysLeftOut } = account;
  const nobody = 'of patients without an export that was read, or told twice';
  return [
    `Patients: ${patients.shared} shared, ${patients.failed} whose exports could not be read and are left out, ${patients.cohortOnly} in the cohort table alone.`,
    `Rows of exports: ${rows.read} read, ${rows.setAside} set aside and not copied. ${counted(account.columnsLeftOut, 'column')} that ${account.columnsLeftOut === 1 ? 'is no channel was' : 'are no channel were'} left out.`,
    `Channels: ${listed(channels.map(({ kind, patients: n }) => `${CHANNEL_NAMES[kind]} (${n})`))}; in brackets, how many patients have it. Values are as they were read, in the unit of the header.`,
    ...ofLog('Care log', care, nobody),
    ...ofLog('Alarm log', alarms, nobody),
    ...ofLog('Decisions of reviewers, who are numbered', decisions, nobody),
    ...ofLog('CPP targets', targets, nobody),
    ...(cohort === null
      ? []
      : [
          `Cohort table: ${counted(cohort.shared, 'row')} shared; ${counted(cohort.agesGrouped, 'age')} over 89 written as 90 with a flag; ${counted(cohort.timesLeftOut, 'time')} left out, since nothing says when monitoring began.`,
        ]),
    `Rows of logs and tables that could not be used: ${account.logRowsSetAside}, not copied.`,
    ...(patients.waveforms > 0
      ? [
          `Waveforms of ${counted(patients.waveforms, 'patient')} are shared as means over whole seconds. Rules that look at each sample find nothing in these, so a report on the set may remove less.`,
        ]
      : []),
    ...(keysLeftOut.length > 0
      ? [
          `Keys of the pipeline file that are not carried over: ${listed(keysLeftOut)}. A report on the set may differ by them.`,
        ]
      : []),
  ];
}

/** How to read the set. */
export function readingTheSet({ times }: SharingAccount): string[] {
  return [
    'patients/CODE.csv.gz has one patient each: a row a time, a column a channel with its unit, blank where there is no sample.',
    ...(times === 'elapsed'
      ? [
          'All times, also those of logs and of the cohort table, are seconds since the whole minute in which monitoring of that patient began; negative ones lie before. A day without a time of day is told as the seconds between which it lies, in whole days (between 0 and 172800).',
          'A report on the set writes that start as 1 January 1970, 00:00. Its hours of the day and nights mean nothing.',
        ]
      : [
          "Times are the unit's local times, moved by whole days, without changes of the clock inside a stay.",
          'Patients whose dates lie far apart make a long period of a report over all of them; figures that do not hang on its length stay the same.',
        ]),
    'cistern run pipeline.yaml --out FOLDER reports on the set. Write the report to another folder.',
    'Codes are drawn anew each time, so two sets of the same patients have nothing in common by which to join them, and no two runs write the same bytes.',
  ];
}

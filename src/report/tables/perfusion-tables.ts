import type { ZoneClock } from '../../recording/zone.js';
import type { RecordingResult } from '../results-schema.js';
import { END, PATIENT, START } from './columns.js';
import { minuteRows } from './minute-rows.js';
import { morningTables } from './morning-tables.js';
import { perfusionPatients } from './perfusion-patients.js';
import type { Reported } from './reported.js';
import type { TidyTable } from './tidy-table.js';

/** Rows out of the perfusion of each recording, with the patient in front. */
const perPatient = <T extends object>(
  { recordings }: Reported,
  list: (perfusion: NonNullable<RecordingResult['perfusion']>) => readonly T[],
): (T & { patient: string })[] =>
  recordings.flatMap(({ id, perfusion }) => list(perfusion).map((one) => ({ ...one, patient: id })));

const jointHours = (results: Reported): TidyTable => ({
  name: 'joint-hours',
  says: 'A row an hour and patient: ICP above its threshold and CPP below its floor, at once and each alone',
  columns: [
    PATIENT,
    START,
    END,
    { name: 'bothHours', unit: 'h', says: 'ICP above and CPP below, at once' },
    { name: 'icpAloneHours', unit: 'h', says: 'ICP above, CPP not below' },
    { name: 'cppAloneHours', unit: 'h', says: 'CPP below, ICP not above' },
    { name: 'neitherHours', unit: 'h', says: 'Neither, of the time over which both are known' },
    { name: 'meanPrx', unit: '1', says: 'Mean PRx of the hour; blank where it could not be computed' },
    { name: 'prxMinutes', unit: 'min', says: 'Minutes at whose end PRx could be computed' },
  ],
  rows: perPatient(results, ({ joint, prx }) =>
    joint.hours.map((hour) => {
      const index = prx.hours.find(({ start }) => start === hour.start);
      return { ...hour, meanPrx: index?.mean ?? null, prxMinutes: index?.computableMinutes ?? null };
    }),
  ),
});

const curve = (results: Reported): TidyTable => ({
  name: 'curve',
  says: 'Investigational: a row a bin of CPP and patient, mean PRx in it over the period',
  columns: [
    PATIENT,
    { name: 'fromMmHg', unit: 'mm[Hg]', says: 'Lower end of the bin, included' },
    { name: 'toMmHg', unit: 'mm[Hg]', says: 'Upper end of the bin, not included' },
    { name: 'minutes', unit: 'min', says: 'Minutes with PRx and CPP in the bin' },
    { name: 'meanIndex', unit: '1', says: 'Mean PRx, back from the mean of Fisher-transformed values' },
    { name: 'isFitted', unit: '', says: 'false where the bin holds too little of the time to count' },
  ],
  rows: perPatient(results, (perfusion) => perfusion.curve?.bins ?? []),
});

const minutes = (results: Reported, clock: ZoneClock): TidyTable => ({
  name: 'minutes',
  says: 'A row a minute and patient, stamped at its end; minutes of which nothing is known are left out',
  columns: [
    PATIENT,
    { name: 'end', unit: '', says: 'Local time with offset, ISO 8601' },
    { name: 'cppMmHg', unit: 'mm[Hg]', says: 'Mean CPP of the 5 min that end here' },
    { name: 'prx', unit: '1', says: 'PRx of the 5 min that end here' },
    {
      name: 'minuteIndex',
      unit: '1',
      says: 'Low-frequency index from minute data, of the 20 min that end here',
    },
    { name: 'optimalCppMmHg', unit: 'mm[Hg]', says: 'Investigational: optimal CPP of the 4 h that end here' },
  ],
  rows: perPatient(results, (perfusion) =>
    perfusion.minutes === null ? [] : minuteRows(perfusion.minutes, clock),
  ),
});

/** What the morning is looked at for, and perfusion is not. */
const OF_MORNING_ALONE: ReadonlySet<string> = new Set(['removals', 'agreement']);

/** The tables of the perfusion report; of some recordings after others they are the tables of all. */
export const perfusionTables = (results: Reported, clock: ZoneClock): TidyTable[] => [
  ...morningTables(results).filter(({ name }) => !OF_MORNING_ALONE.has(name)),
  perfusionPatients(results),
  jointHours(results),
  curve(results),
  minutes(results, clock),
];

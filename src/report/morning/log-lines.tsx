import type { JSX } from 'preact';
import type { RecordingResult, Results } from '../results-schema.js';
import { clockTime, counted, day, dayAndTime, listed, span } from '../words.js';

type Log = Results['logs'][number];

const TITLES: Readonly<Record<Log['kind'], string>> = {
  care: 'Care log',
  alarms: 'Alarm log',
  occupancy: 'Table of beds',
  cohort: 'Table of patients',
  overrides: 'Decisions',
  targets: 'CPP targets',
};

/** `Care log care.csv: rows read 40, used 38, set aside 2.` */
function logLine({ kind, file, rowsRead, rowsUsed, rowsUndecided, rowsSetAside }: Log): string {
  const undecided = rowsUndecided > 0 ? `, without a decision ${rowsUndecided}` : '';
  const aside = rowsSetAside > 0 ? ' (each with its reason in tables/setaside.csv)' : '';
  return `${TITLES[kind]} ${file}: rows read ${rowsRead}, used ${rowsUsed}${undecided}, set aside ${rowsSetAside}${aside}.`;
}

/** What came of the logs and tables beside the exports, a paragraph each. */
export function LogLines({ logs }: { logs: Results['logs'] }): JSX.Element | null {
  if (logs.length === 0) return null;
  return (
    <>
      {logs.map((log) => (
        <p key={`${log.kind} ${log.file}`}>{[logLine(log), ...log.warnings].join(' ')}</p>
      ))}
    </>
  );
}

/** `"mouth care" (12 Feb 02:00) and "fed" (12 Feb 03:00)`. */
function namedWords({ careNotUnderstood, careEntriesNotUnderstood: all }: RecordingResult): string {
  const named = careNotUnderstood.map(({ start, text }) => `"${text}" (${dayAndTime(start)})`);
  return `${named.length === all ? ': ' : ', such as '}${listed(named)}`;
}

/** Said where none of the patient's entries falls into the recording: the log may be of another year. */
export function careBesideWords({ careEntries, careEntriesInside, careTimes }: RecordingResult): string {
  if (careEntriesInside !== 0 || careTimes === null || careEntries === null) return '';
  const look = 'Look at the year and the time zone of the log.';
  const { start, end } = careTimes;
  return careEntries === 1
    ? `The one entry of the care log does not fall into the time of the recording: it is of ${day(start)} ${clockTime(start)}. ${look}`
    : `None of the ${careEntries} entries of the care log falls into the time of the recording: they are of ${span(start, end)}. ${look}`;
}

/** The entries of the patient: how many, and what was not understood. */
export function careWords(result: RecordingResult): string {
  const { careEntries, careEntriesNotUnderstood } = result;
  if (careEntries === null) return '';
  const unclear = careEntriesNotUnderstood
    ? `, ${careEntriesNotUnderstood} of them not used by any rule${namedWords(result)}`
    : '';
  return `The care log has ${careEntries === 0 ? 'no entry' : counted(careEntries, 'entry', 'entries')} of this patient${unclear}. `;
}

/** What of the logs is about one patient, and how they were read as a whole; the unit page says what to know of them. */
export function PatientLogLines({
  result,
  logs,
}: {
  result: RecordingResult;
  logs: Results['logs'];
}): JSX.Element | null {
  if (logs.length === 0) return null;
  return <p>{`${careWords(result)}Over all patients: ${logs.map(logLine).join(' ')}`}</p>;
}

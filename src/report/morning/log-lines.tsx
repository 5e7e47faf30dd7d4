import type { JSX } from 'preact';
import type { RecordingResult, Results } from '../results-schema.js';
import { counted } from '../words.js';

type Log = Results['logs'][number];

const TITLES: Readonly<Record<Log['kind'], string>> = {
  care: 'Care log',
  occupancy: 'Table of beds',
  overrides: 'Decisions',
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

/** What of the logs is about one patient, and how they were read as a whole; the unit page says what to know of them. */
export function PatientLogLines({
  result: { careEntries, careEntriesNotUnderstood },
  logs,
}: {
  result: RecordingResult;
  logs: Results['logs'];
}): JSX.Element | null {
  if (logs.length === 0) return null;
  const own =
    careEntries === null
      ? ''
      : `The care log has ${counted(careEntries, 'entry', 'entries')} of this patient${careEntriesNotUnderstood ? `, ${careEntriesNotUnderstood} of them in words of which no rule makes anything` : ''}. `;
  return <p>{`${own}Over all patients: ${logs.map(logLine).join(' ')}`}</p>;
}

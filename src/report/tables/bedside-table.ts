import type { RecordingResult } from '../results-schema.js';
import { END, PATIENT, START } from './columns.js';
import type { Cell } from './csv.js';
import type { Reported } from './reported.js';
import type { TidyTable } from './tidy-table.js';

type Row = Readonly<Record<'kind' | 'start' | 'end' | 'acknowledged' | 'text', Cell>> & {
  readonly start: string;
};

const rowsOf = ({ alarms, entries, drainOpen }: RecordingResult['bedside']): Row[] => {
  const none = { acknowledged: null, text: null };
  return [
    ...(alarms ?? []).map((alarm) => ({ kind: 'alarm', ...alarm })),
    ...(entries ?? []).map(({ isTreatment, ...entry }) => ({
      ...none,
      kind: isTreatment ? 'treatment' : 'entry',
      ...entry,
    })),
    ...drainOpen.map((open) => ({ ...none, kind: 'drainOpen', ...open })),
  ].sort((a, b) => Date.parse(a.start) - Date.parse(b.start));
};

/** What the alarm log and the care log tell of the period. */
export const bedside = ({ recordings }: Reported): TidyTable => ({
  name: 'bedside',
  says: 'A row an alarm, an entry of the care log or a time with the drain open, in the period, within 30 min of it or around one of its episodes',
  columns: [
    PATIENT,
    { name: 'kind', unit: '', says: 'alarm; treatment or entry, of the care log; drainOpen' },
    START,
    { ...END, says: `${END.says}; blank where the log gives none` },
    { name: 'acknowledged', unit: '', says: 'Of an alarm, local time with offset; blank where nobody did' },
    {
      name: 'text',
      unit: '',
      says: 'What the alarm was about, or the entry as it was written; blank for drainOpen',
    },
  ],
  rows: recordings.flatMap(({ id, bedside: told }) => rowsOf(told).map((row) => ({ patient: id, ...row }))),
});

import type { JSX } from 'preact';
import { Fold } from '../page/fold.js';
import { Table } from '../page/table.js';
import type { AuditAlarms } from '../results-audit-alarms.js';
import { counted } from '../words.js';
import { CHANNEL_SHORT } from './class-words.js';
import { rate } from './estimate-words.js';

type Row = AuditAlarms['patients'][number];

const isEmpty = ({ alarms, episodes, monitoredDays }: Row): boolean =>
  alarms === 0 && episodes === 0 && monitoredDays === 0;

/** Patients one by one, the most alarms first. */
export function AlarmPatients({ alarms }: { readonly alarms: AuditAlarms }): JSX.Element | null {
  const rows = alarms.patients.filter((row) => !isEmpty(row)).toSorted((a, b) => b.alarms - a.alarms);
  if (rows.length === 0) return null;
  const shown = rows.filter((row) => row.alarms > 0 || row.episodes > 0);
  const rest = rows.length - shown.length;
  return (
    <Fold title="Patient by patient, as a table">
      <Table
        caption={`The most alarms first.${rest === 0 ? '' : ` ${counted(rest, 'row')} without alarm and without sustained episode left out.`}`}
        columns={[
          { head: 'Patient' },
          { head: 'Channel' },
          { head: 'Alarms', number: true },
          { head: 'Sustained', number: true },
          { head: 'Artifact', number: true },
          { head: 'Monitored days', number: true },
          { head: 'Alarms a day', number: true },
          { head: 'Sustained episodes', number: true },
          { head: 'Without alarm', number: true },
        ]}
        rows={shown.map((row) => ({
          key: `${row.patient} ${row.channel}`,
          cells: [
            row.patient,
            CHANNEL_SHORT[row.channel],
            row.alarms,
            row.sustained,
            row.artifact,
            row.monitoredDays.toFixed(1),
            rate(row.monitoredDays === 0 ? null : row.alarms / row.monitoredDays),
            row.episodes,
            row.episodesWithoutAlarm,
          ],
        }))}
      />
    </Fold>
  );
}

import type { UnitAuditInput } from '../../summarize/alarms/audit-settings.js';
import { caughtIn, READINGS } from '../../summarize/alarms/what-if-cells.js';
import type { AuditWhatIf } from '../results-audit-what-if.js';
import { END, PATIENT, START } from './columns.js';
import type { TidyColumn, TidyTable } from './tidy-table.js';

const SETTING: readonly TidyColumn[] = [
  { name: 'reading', unit: '', says: 'raw: ICP as exported; cleaned: without what was removed' },
  { name: 'limitMmHg', unit: 'mm[Hg]', says: 'Alarm limit' },
  {
    name: 'delaySeconds',
    unit: 's',
    says: 'ICP has to be above the limit for so long before the alarm is raised',
  },
];

const COUNTS: readonly TidyColumn[] = [
  { name: 'alarms', unit: '{alarms}', says: 'Alarms that the setting would have raised' },
  { name: 'sustainedAlarms', unit: '{alarms}', says: 'Of them, those that were on in a sustained episode' },
  { name: 'episodes', unit: '{episodes}', says: 'Sustained episodes of ICP without what was removed' },
  { name: 'episodesCaught', unit: '{episodes}', says: 'Of them, those in which an alarm was on' },
];

const figuresOf = ({ longMinutes }: AuditWhatIf): readonly TidyColumn[] => [
  { name: 'monitoredDays', unit: 'd', says: 'Patient-days of ICP as exported' },
  { name: 'alarmsPerDay', unit: '{alarms}/d', says: 'Alarms a monitored patient-day' },
  { name: 'sustainedShare', unit: '1', says: 'sustainedAlarms of the alarms' },
  { name: 'caughtShare', unit: '1', says: 'episodesCaught of the episodes' },
  {
    name: 'medianNoticeMinutes',
    unit: 'min',
    says: 'Median of the episodes caught: from the crossing of their threshold to the first alarm that is on in them',
  },
  {
    name: 'medianDoseMmHgHours',
    unit: 'mm[Hg].h',
    says: 'Median of the episodes caught: dose above their threshold up to then',
  },
  { name: 'longMissed', unit: '{episodes}', says: `Episodes of ${longMinutes} min or more that are missed` },
  {
    name: 'isPresent',
    unit: '',
    says: 'true for the setting that the pipeline file gives as the present one',
  },
  { name: 'isChoice', unit: '', says: 'true where no other setting on ICP as exported is better' },
];

type Setting = AuditWhatIf['raw'][number];

const hasSetting = (list: readonly Pick<Setting, 'limitMmHg' | 'delaySeconds'>[], one: Setting): boolean =>
  list.some(
    ({ limitMmHg, delaySeconds }) => limitMmHg === one.limitMmHg && delaySeconds === one.delaySeconds,
  );

const unitTable = (part: AuditWhatIf): TidyTable => ({
  name: 'whatif',
  says: 'A row a reading, limit and delay: what the setting would have made of the ICP of all patients',
  columns: [...SETTING, ...COUNTS, ...figuresOf(part)],
  rows: READINGS.flatMap((reading) =>
    part[reading].map((cell) => ({
      ...cell,
      reading,
      episodes: part.episodes,
      monitoredDays: part.monitoredDays,
      isPresent: part.present !== null && hasSetting([part.present], cell),
      isChoice: reading === 'raw' ? hasSetting(part.choices, cell) : null,
    })),
  ),
});

const patientTable = ({ patients, settings }: UnitAuditInput): TidyTable => ({
  name: 'whatifpatients',
  says: 'A row a patient, reading, limit and delay, of which the counts of whatif are the sums; no rows where small counts are masked',
  columns: [PATIENT, ...SETTING, ...COUNTS],
  rows:
    settings.maskBelow !== null
      ? []
      : patients.flatMap(({ id, replay }) =>
          replay === null
            ? []
            : READINGS.flatMap((reading) =>
                replay.limitsMmHg.flatMap((limitMmHg, row) =>
                  replay.delaysSeconds.map((delaySeconds, column) => {
                    const cell = row * replay.delaysSeconds.length + column;
                    return {
                      patient: id,
                      reading,
                      limitMmHg,
                      delaySeconds,
                      alarms: replay[reading].alarms[cell],
                      sustainedAlarms: replay[reading].sustained[cell],
                      episodes: replay.episodes.length,
                      episodesCaught: caughtIn(replay, replay[reading], cell),
                    };
                  }),
                ),
              ),
        ),
});

const missedTable = (part: AuditWhatIf): TidyTable => ({
  name: 'whatifmissed',
  says: `A row an episode of ${part.longMinutes} min or more and limit that misses it with some delay, on ICP as exported`,
  columns: [
    PATIENT,
    START,
    END,
    { name: 'minutes', unit: 'min', says: 'Length of the episode' },
    { name: 'limitMmHg', unit: 'mm[Hg]', says: 'Alarm limit' },
    {
      name: 'missedFromDelaySeconds',
      unit: 's',
      says: 'Shortest delay tried with which it is missed; with any longer one it is missed too',
    },
  ],
  rows: (part.missedLong ?? []).flatMap(({ missedFrom, ...episode }) =>
    missedFrom.map(({ limitMmHg, delaySeconds }) => ({
      ...episode,
      limitMmHg,
      missedFromDelaySeconds: delaySeconds,
    })),
  ),
});

/**
 * What other limits and delays would have made of ICP, as tables.
 *
 * @param part masked, where the settings of the input ask for it
 */
export const auditWhatIfTables = (part: AuditWhatIf, input: UnitAuditInput): TidyTable[] => [
  unitTable(part),
  patientTable(input),
  missedTable(part),
];

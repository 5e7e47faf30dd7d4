import type { UnitAuditInput } from '../../summarize/alarms/audit-settings.js';
import { hourOfDay, weekday } from '../../summarize/alarms/unit-alarm-hours.js';
import { WEEKDAYS } from '../audit/weekdays.js';
import type { Cell } from './csv.js';
import type { TidyColumn } from './tidy-table.js';

/** A patient as tables name it. */
export type NameOf = (id: string) => string;

/** Columns by what they hold. */
export const text = (name: string, says: string): TidyColumn => ({ name, unit: '', says });
export const mmHg = (name: string, says: string): TidyColumn => ({ name, unit: 'mm[Hg]', says });
export const minutes = (name: string, says: string): TidyColumn => ({ name, unit: 'min', says });
export const hours = (name: string, says: string): TidyColumn => ({ name, unit: 'h', says });

export const CHANNEL = text('channel', 'icp or cpp');
export const ONSET = text('onset', 'When the alarm came on; local time with offset, ISO 8601');
export const localTime = (name: string, says: string): TidyColumn =>
  text(name, `${says}; local time with offset, ISO 8601`);

/** The hour of the day and the day of the week. */
export const CLOCK: readonly TidyColumn[] = [
  { name: 'hour', unit: '', says: 'Hour of the clock on the wall, 0 to 23' },
  text('weekday', 'Day of the week by the clock on the wall'),
];

/** Their cells, of an instant. */
export const clockCells = (at: number, { clock }: UnitAuditInput): Record<string, Cell> => ({
  hour: hourOfDay(clock.toLocal(at)),
  weekday: WEEKDAYS[weekday(clock.toLocal(at))],
});

import { classBarsSpec } from '../charts/audit-class-bars.js';
import { lagsSpec } from '../charts/audit-lags.js';
import { hourRatesSpec, weekdayRatesSpec } from '../charts/audit-rate-bars.js';
import type { Draw } from '../charts/spec.js';
import type { AuditAlarms } from '../results-audit-alarms.js';

/** The charts of what alarms were, as SVG; null where there is nothing to draw. */
export interface AlarmDrawings {
  readonly classes: string | null;
  readonly hours: string | null;
  readonly weekdays: string | null;
  readonly lags: string | null;
}

/** What the sections on alarms show. */
export interface AlarmSectionProps {
  readonly alarms: AuditAlarms;
  readonly drawings: AlarmDrawings;
  /** Counts under it are not shown; null where all are. */
  readonly maskBelow: number | null;
}

/** The channels that have any alarm, as far as is shown. */
export const channelsWithAlarms = ({ channels }: AuditAlarms): AuditAlarms['channels'] =>
  channels.filter(({ alarms }) => alarms !== 0);

/** Draws what the sections on alarms show. */
export async function drawAlarms(alarms: AuditAlarms, draw: Draw): Promise<AlarmDrawings> {
  const shown = channelsWithAlarms(alarms);
  const some = shown.length > 0;
  return {
    classes: some ? await draw(classBarsSpec(shown), 'alarm-classes') : null,
    hours: some ? await draw(hourRatesSpec(shown), 'alarm-hours') : null,
    weekdays: some ? await draw(weekdayRatesSpec(shown), 'alarm-weekdays') : null,
    lags: alarms.clock.minutes.some(({ pairs }) => pairs > 0)
      ? await draw(lagsSpec(alarms.clock), 'alarm-clocks')
      : null,
  };
}

import { aroundChange } from '../../summarize/alarms/around-change.js';
import type { UnitAuditInput } from '../../summarize/alarms/audit-settings.js';
import { AUDIT_CHANNELS } from '../../summarize/alarms/patient-audit.js';
import { unitAlarms } from '../../summarize/alarms/unit-alarms.js';
import { noticeCounts } from '../../summarize/alarms/unit-unnoticed.js';
import type { AuditResult } from '../results-audit.js';
import { estimateResult } from '../results-estimate.js';

type Side = AuditResult['sides'][number];

function sideResult(input: UnitAuditInput, side: Side['side']): Side {
  return {
    side,
    channels: AUDIT_CHANNELS.map((channel) => {
      const { alarms, monitoredDays, perDay, classes, sustained, sustainedOrCutShort } = unitAlarms(
        input,
        channel,
      );
      const { inTime, late, none, notCovered } = noticeCounts(input, channel);
      const countOf = (name: string): number =>
        classes.find(({ alarmClass }) => alarmClass === name)?.alarms ?? 0;
      const told = alarms - countOf('cannotTell');
      return {
        channel,
        alarms,
        monitoredDays,
        perDay: estimateResult(perDay),
        sustained: estimateResult(sustained.ofThoseTold.byPatients),
        sustainedOrCutShort: estimateResult(sustainedOrCutShort.ofThoseTold.byPatients),
        artifactShare: told === 0 ? null : countOf('artifact') / told,
        episodes: inTime + late + none + notCovered,
        withoutAlarm: none,
        withLateAlarm: late,
      };
    }),
  };
}

/** The headline figures before a marked change and from then on: together they would describe neither. */
export function sidesResult(input: UnitAuditInput): AuditResult['sides'] {
  const around = aroundChange(input);
  return around ? [sideResult(around.before, 'before'), sideResult(around.after, 'after')] : [];
}

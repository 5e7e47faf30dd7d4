import { lengthMs } from '../../recording/interval.js';
import type { UnitAuditInput } from '../../summarize/alarms/audit-settings.js';
import { type RatedSetting, type WhatIf, whatIf } from '../../summarize/alarms/unit-what-if.js';
import { LONG_MINUTES, type WhatIfCell } from '../../summarize/alarms/what-if-cells.js';
import { withReasons } from '../../summarize/figure.js';
import { ends } from '../ends.js';
import type { AuditWhatIf, RatedResult, WhatIfCellResult } from '../results-audit-what-if.js';
import { estimateResult } from '../results-estimate.js';

const MINUTE_MS = 60_000;

const cellResult = (cell: WhatIfCell): WhatIfCellResult => {
  const { alarmsPerDay, sustainedShare, caughtShare, medianNoticeMinutes, medianDoseMmHgHours, ...counts } =
    cell;
  return {
    ...counts,
    ...withReasons({
      alarmsPerDay,
      sustainedShare,
      caughtShare,
      medianNoticeMinutes,
      medianDoseMmHgHours,
    }),
  };
};

const settingOf = ({ cells }: WhatIf, cell: number): { limitMmHg: number; delaySeconds: number } => ({
  limitMmHg: cells.raw[cell].limitMmHg,
  delaySeconds: cells.raw[cell].delaySeconds,
});

const ratedResult = (found: WhatIf, { cell, alarmsPerDay, caughtShare }: RatedSetting): RatedResult => ({
  ...settingOf(found, cell),
  alarmsPerDay: estimateResult(alarmsPerDay),
  caughtShare: estimateResult(caughtShare),
});

function againstResult(found: WhatIf): AuditWhatIf['againstPresent'] {
  if (found.againstPresent === null) return null;
  const { fewestAlarms, mostCaught, shortestNotice } = found.againstPresent;
  const chosen = (cell: number | null) => (cell === null ? null : settingOf(found, cell));
  return {
    fewestAlarms: chosen(fewestAlarms),
    mostCaught: chosen(mostCaught),
    shortestNotice: chosen(shortestNotice),
  };
}

/** A part of the results, or null and why there is none. */
export interface WhatIfOrReason {
  readonly whatIf: AuditWhatIf | null;
  readonly whatIfReason?: string;
}

/** What other limits and delays would have made of the unit's ICP, as results.json has it; not masked. */
export function whatIfResult(input: UnitAuditInput): WhatIfOrReason {
  const found = whatIf(input);
  if (found === null) {
    const { limitsMmHg, delaysSeconds } = input.settings.tried;
    const whatIfReason =
      limitsMmHg.length * delaysSeconds.length === 0
        ? 'no limit or no delay was to be tried'
        : input.patients.length === 0
          ? 'there is no patient'
          : 'no patient has ICP that is sampled often enough for a replay';
    return { whatIf: null, whatIfReason };
  }
  const { present } = input.settings;
  return {
    whatIf: {
      limitsMmHg: [...found.limitsMmHg],
      delaysSeconds: [...found.delaysSeconds],
      resetSeconds: found.resetSeconds,
      longMinutes: LONG_MINUTES,
      patients: found.patients.length,
      notReplayed: found.notReplayed,
      monitoredDays: found.monitoredDays,
      episodes: found.episodes,
      longEpisodes: found.longEpisodes,
      raw: found.cells.raw.map(cellResult),
      cleaned: found.cells.cleaned.map(cellResult),
      present: present === null ? null : { ...present, isTried: found.present !== null },
      presentRated: found.present === null ? null : ratedResult(found, found.present),
      choices: found.choices.map((one) => ratedResult(found, one)),
      againstPresent: againstResult(found),
      missedLong: found.missed.map((one) => ({
        patient: one.patient,
        ...ends(one, input.clock),
        minutes: lengthMs(one) / MINUTE_MS,
        missedFrom: one.missedFrom.map((from) => ({ ...from })),
      })),
    },
  };
}

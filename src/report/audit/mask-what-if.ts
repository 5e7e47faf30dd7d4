import type { AuditWhatIf, RatedResult, WhatIfCellResult } from '../results-audit-what-if.js';
import type { EstimateResult } from '../results-estimate.js';
import { withoutNumbers } from './mask.js';

type Count = number | null;

/**
 * A part of results with its small counts masked: a count from 1 to under `below` becomes null, and so does one whose rest
 * to its whole is such a count, since a subtraction would tell it. What is computed of a masked count goes with it, and so
 * does the list of single episodes.
 */
export function maskWhatIf(part: AuditWhatIf, below: number): AuditWhatIf {
  const reason = `counts under ${below} are not shown`;
  const isSmall = (count: Count): boolean => count !== null && count > 0 && count < below;
  /** True where the count, or what the whole has beside it, is small. */
  const tells = (count: Count, whole: Count): boolean =>
    isSmall(count) || (count !== null && whole !== null && isSmall(whole - count));
  /** Figures that become null, with the reason beside each. */
  const without = <T extends object>(figures: T, ...keys: readonly (keyof T & string)[]): T => ({
    ...figures,
    ...Object.fromEntries(keys.flatMap((key) => [[key, null] as const, [`${key}Reason`, reason] as const])),
  });

  const hidden = (cell: WhatIfCellResult) => ({
    alarms: isSmall(cell.alarms),
    sustained: tells(cell.sustainedAlarms, cell.alarms),
    caught: tells(cell.episodesCaught, part.episodes),
    longMissed: tells(cell.longMissed, part.longEpisodes),
  });
  const maskCell = (cell: WhatIfCellResult): WhatIfCellResult => {
    const hides = hidden(cell);
    return without(
      cell,
      ...(hides.alarms ? (['alarms', 'alarmsPerDay'] as const) : []),
      ...(hides.sustained ? (['sustainedAlarms'] as const) : []),
      ...(hides.alarms || hides.sustained ? (['sustainedShare'] as const) : []),
      ...(hides.caught
        ? (['episodesCaught', 'caughtShare', 'medianNoticeMinutes', 'medianDoseMmHgHours'] as const)
        : []),
      ...(hides.longMissed ? (['longMissed'] as const) : []),
    );
  };

  const none: EstimateResult = { value: null, lower: null, upper: null, reason };
  const maskRated = (rated: RatedResult): RatedResult => {
    const cell = part.raw.find(
      (one) => one.limitMmHg === rated.limitMmHg && one.delaySeconds === rated.delaySeconds,
    );
    const hides = cell ? hidden(cell) : { alarms: true, caught: true };
    return {
      ...rated,
      alarmsPerDay: hides.alarms ? none : withoutNumbers(rated.alarmsPerDay),
      caughtShare: hides.caught ? none : withoutNumbers(rated.caughtShare),
    };
  };

  // The patients who were not replayed are the rest of those on top of the page.
  const totals = (['patients', 'notReplayed', 'episodes', 'longEpisodes'] as const).filter((key) =>
    isSmall(part[key]),
  );
  // The long episodes and the shorter ones make the whole.
  const keys = tells(part.longEpisodes, part.episodes)
    ? [...new Set([...totals, 'longEpisodes' as const])]
    : totals;
  return {
    ...without(part, ...keys, 'missedLong', 'notReplayed'),
    raw: part.raw.map(maskCell),
    cleaned: part.cleaned.map(maskCell),
    presentRated: part.presentRated === null ? null : maskRated(part.presentRated),
    choices: part.choices.map(maskRated),
  };
}

import type { Interval } from '../../recording/interval.js';
import { type Estimate, noBounds } from '../statistics/estimate.js';
import type { UnitAuditInput } from './audit-settings.js';
import { monitoredDays } from './monitored-days.js';
import type { PatientAudit } from './patient-audit.js';
import { ratioOverPatients } from './ratio-over-patients.js';
import type { ReplayGrid } from './replay-grid.js';
import { caughtIn, isCaught, isLong, type Reading, type WhatIfCell, whatIfCell } from './what-if-cells.js';
import { type AgainstPresent, againstPresent, choicesAmong } from './what-if-choices.js';

/** A patient whose ICP was replayed. */
export type ReplayedPatient = PatientAudit & { readonly replay: ReplayGrid };

/** A setting with intervals over patients, on the raw reading. */
export interface RatedSetting {
  /** Place among the cells. */
  readonly cell: number;
  readonly alarmsPerDay: Estimate;
  readonly caughtShare: Estimate;
}

/** A long episode that some setting misses on the raw reading. */
export interface MissedEpisode extends Interval {
  readonly patient: string;
  /** The limits that miss it, rising, and the shortest delay that does; with any longer one it is missed too. */
  readonly missedFrom: readonly { readonly limitMmHg: number; readonly delaySeconds: number }[];
}

/** What the settings that were tried would have made of the unit's ICP. */
export interface WhatIf {
  readonly patients: readonly ReplayedPatient[];
  /** Patients whose samples are too coarse for a replay. */
  readonly notReplayed: number;
  /** As exported. */
  readonly monitoredDays: number;
  readonly episodes: number;
  readonly longEpisodes: number;
  readonly limitsMmHg: readonly number[];
  readonly delaysSeconds: readonly number[];
  readonly resetSeconds: number;
  /** A cell stands at `limit * delays + delay`. */
  readonly cells: Readonly<Record<Reading, readonly WhatIfCell[]>>;
  /** By alarms. */
  readonly choices: readonly RatedSetting[];
  /** Null where nobody says how monitors are set, or that setting was not tried. */
  readonly present: RatedSetting | null;
  readonly againstPresent: AgainstPresent | null;
  readonly missed: readonly MissedEpisode[];
}

const daysOf = ({ hours }: PatientAudit): number => monitoredDays(hours, 'icp');

function rate(patients: readonly ReplayedPatient[], cell: number): RatedSetting {
  const alarms = patients.map((one) => ({ part: one.replay.raw.alarms[cell], whole: daysOf(one) }));
  const caught = patients.map(({ replay }) => ({
    part: caughtIn(replay, replay.raw, cell),
    whole: replay.episodes.length,
  }));
  const episodes = caught.reduce((sum, { whole }) => sum + whole, 0);
  const share = caught.reduce((sum, { part }) => sum + part, 0) / episodes;
  // A share of all or none has an interval, but drawing patients anew cannot show it.
  const isAlike = share === 0 || share === 1;
  return {
    cell,
    alarmsPerDay: ratioOverPatients(alarms),
    caughtShare: isAlike
      ? { value: share, ...noBounds('all patients are alike, so resampling them shows no spread') }
      : ratioOverPatients(caught),
  };
}

/** Which limits miss an episode on the raw reading, and from which delay on: a longer one is never on earlier. */
const missedFrom = (grid: ReplayGrid, episode: number): MissedEpisode['missedFrom'] =>
  grid.limitsMmHg.flatMap((limitMmHg, row) => {
    const delaySeconds = grid.delaysSeconds.find(
      (_, column) => !isCaught(grid, 'raw', row * grid.delaysSeconds.length + column, episode),
    );
    return delaySeconds === undefined ? [] : [{ limitMmHg, delaySeconds }];
  });

const missedOf = ({ id, replay }: ReplayedPatient): MissedEpisode[] =>
  replay.episodes.flatMap((episode, k) => {
    const from = isLong(episode) ? missedFrom(replay, k) : [];
    return from.length === 0 ? [] : [{ ...episode, patient: id, missedFrom: from }];
  });

/**
 * What each limit with each delay would have made of the ICP of all patients, on past data: how many alarms, how many of
 * them in sustained episodes, how many episodes told of and how soon. Over the whole period, since a replay needs no
 * alarm log. Choices and intervals are those of the raw reading, which is what a monitor sees.
 *
 * @returns null where no patient could be replayed, or nothing was tried
 */
export function whatIf({ patients: all, settings }: UnitAuditInput): WhatIf | null {
  const patients = all.filter((one): one is ReplayedPatient => one.replay !== null);
  const { limitsMmHg, delaysSeconds, resetSeconds } = settings.tried;
  const count = limitsMmHg.length * delaysSeconds.length;
  if (patients.length === 0 || count === 0) return null;
  const grids = patients.map(({ replay }) => replay);
  const days = patients.reduce((sum, one) => sum + daysOf(one), 0);
  const cellsOf = (reading: Reading): WhatIfCell[] =>
    Array.from({ length: count }, (_, cell) => whatIfCell(grids, reading, cell, days));
  const cells = { raw: cellsOf('raw'), cleaned: cellsOf('cleaned') };
  const choices = choicesAmong(cells.raw);
  const { present } = settings;
  const presentCell = cells.raw.findIndex(
    (one) => one.limitMmHg === present?.limitMmHg && one.delaySeconds === present.delaySeconds,
  );
  const episodes = grids.flatMap((grid) => grid.episodes);
  return {
    patients,
    notReplayed: all.length - patients.length,
    monitoredDays: days,
    episodes: episodes.length,
    longEpisodes: episodes.filter(isLong).length,
    limitsMmHg,
    delaysSeconds,
    resetSeconds,
    cells,
    choices: [...choices]
      .sort((a, b) => cells.raw[a].alarms - cells.raw[b].alarms || a - b)
      .map((cell) => rate(patients, cell)),
    present: presentCell < 0 ? null : rate(patients, presentCell),
    againstPresent: presentCell < 0 ? null : againstPresent(cells.raw, choices, presentCell),
    missed: patients.flatMap(missedOf),
  };
}

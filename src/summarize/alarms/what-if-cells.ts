import type { Figure } from '../figure.js';
import { quantileSorted } from '../statistics/quantile-sorted.js';
import type { ReplayedReading, ReplayGrid } from './replay-grid.js';

/** The two signals that settings are tried on. */
export const READINGS = ['raw', 'cleaned'] as const;
export type Reading = (typeof READINGS)[number];

/** An episode of so many minutes or more that no alarm told of is listed. Own convention. */
export const LONG_MINUTES = 30;
/** A millionth of a minute: ends of episodes are crossings, computed in floating point. */
const TOLERANCE_MINUTES = 1e-6;
const MINUTE_MS = 60_000;

export const isLong = ({ start, end }: ReplayGrid['episodes'][number]): boolean =>
  (end - start) / MINUTE_MS >= LONG_MINUTES - TOLERANCE_MINUTES;

/** What one setting would have made of one reading of all patients. */
export interface WhatIfCell {
  readonly limitMmHg: number;
  readonly delaySeconds: number;
  readonly alarms: number;
  /** Alarms that were on in a sustained episode. */
  readonly sustainedAlarms: number;
  readonly episodesCaught: number;
  /** Missed episodes of 30 min or more. */
  readonly longMissed: number;
  readonly alarmsPerDay: Figure;
  /** Of the alarms. */
  readonly sustainedShare: Figure;
  /** Of the episodes. */
  readonly caughtShare: Figure;
  /** Medians of the episodes caught: from the crossing to the notice, and the dose up to it. */
  readonly medianNoticeMinutes: Figure;
  readonly medianDoseMmHgHours: Figure;
}

/** Whether an episode was caught in a cell. */
export const isCaught = (grid: ReplayGrid, reading: Reading, cell: number, episode: number): boolean =>
  !Number.isNaN(grid[reading].noticedMinutes[cell * grid.episodes.length + episode]);

/** How many episodes of a patient were caught in a cell. */
export function caughtIn(
  { episodes }: ReplayGrid,
  { noticedMinutes }: ReplayedReading,
  cell: number,
): number {
  let caught = 0;
  for (let k = 0; k < episodes.length; k++)
    if (!Number.isNaN(noticedMinutes[cell * episodes.length + k])) caught++;
  return caught;
}

function median(values: readonly number[], reason: string): Figure {
  return values.length === 0 ? { reason } : quantileSorted(Float64Array.from(values).sort(), 0.5);
}

const ratio = (part: number, whole: number, reason: string): Figure =>
  whole > 0 ? part / whole : { reason };

/** @param days monitored, of all patients that were replayed */
export function whatIfCell(
  grids: readonly ReplayGrid[],
  reading: Reading,
  cell: number,
  days: number,
): WhatIfCell {
  const { limitsMmHg, delaysSeconds } = grids[0];
  let [alarms, sustainedAlarms, episodes, longMissed] = [0, 0, 0, 0];
  const minutes: number[] = [];
  const doses: number[] = [];
  for (const grid of grids) {
    const { noticedMinutes, doseMmHgHours, ...counts } = grid[reading];
    alarms += counts.alarms[cell];
    sustainedAlarms += counts.sustained[cell];
    episodes += grid.episodes.length;
    grid.episodes.forEach((episode, k) => {
      const place = cell * grid.episodes.length + k;
      if (isCaught(grid, reading, cell, k)) {
        minutes.push(noticedMinutes[place]);
        doses.push(doseMmHgHours[place]);
      } else if (isLong(episode)) longMissed++;
    });
  }
  const none = episodes === 0 ? 'there is no sustained episode' : 'no episode would have been caught';
  return {
    limitMmHg: limitsMmHg[Math.floor(cell / delaysSeconds.length)],
    delaySeconds: delaysSeconds[cell % delaysSeconds.length],
    alarms,
    sustainedAlarms,
    episodesCaught: minutes.length,
    longMissed,
    alarmsPerDay: ratio(alarms, days, 'ICP was not monitored'),
    sustainedShare: ratio(sustainedAlarms, alarms, 'no alarm would have been raised'),
    caughtShare: ratio(minutes.length, episodes, 'there is no sustained episode'),
    medianNoticeMinutes: median(minutes, none),
    medianDoseMmHgHours: median(doses, none),
  };
}

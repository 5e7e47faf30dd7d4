import type { Interval } from '../../recording/interval.js';
import type { Side, Stretch } from '../../segment/stretches.js';

/** How a monitor would be set. */
export interface AlarmSetting {
  readonly limit: number;
  readonly side: Side;
  /** The signal has to be past the limit for so long before the alarm is raised, seconds. */
  readonly delaySeconds: number;
  /** It has to be back for so long before another alarm can be raised, seconds. */
  readonly resetSeconds: number;
}

/** An alarm as the setting would have raised it, milliseconds UTC. */
export interface ReplayedAlarm {
  readonly onset: number;
  /** When the signal was back for as long as the reset asks for, or when it was no longer known. */
  readonly end: number;
}

/** A millionth of a second: crossings are computed in floating point on times of 10^12 ms. */
const TOLERANCE_MS = 1e-3;

/**
 * The alarms that a setting would have raised on a signal. The condition holds while the signal is past the limit; the
 * alarm is raised once it has held for the delay without a break, and ends once the signal has been back for the reset
 * delay. What is not known is neither past nor back: it breaks the delay and ends the alarm.
 *
 * @param stretches of the signal against the limit of the setting, as `stretchesPast` gives them
 */
export function replay(stretches: readonly Stretch[], setting: AlarmSetting): ReplayedAlarm[] {
  const delayMs = setting.delaySeconds * 1000;
  const resetMs = setting.resetSeconds * 1000;
  const alarms: { onset: number; end: number }[] = [];
  let isOn = false;
  for (const { state, start, end } of stretches) {
    if (state === 'past') {
      if (isOn) alarms[alarms.length - 1].end = end;
      else if (end - start >= delayMs - TOLERANCE_MS) {
        alarms.push({ onset: start + delayMs, end });
        isOn = true;
      }
    } else if (state === 'unknown' || end - start >= resetMs - TOLERANCE_MS) isOn = false;
  }
  return alarms;
}

/** What a setting would have made of sustained episodes. */
export interface Caught {
  /** By episode: when it would have been told of, from its crossing on; null where it would not. */
  readonly noticed: readonly (number | null)[];
  /** By alarm: true where it was on in a sustained episode. */
  readonly isSustained: readonly boolean[];
}

/**
 * Which alarms stand in sustained episodes, and when each episode would have been noticed: at the first alarm that was on
 * at some time in it, not before it began.
 *
 * @param alarms and `episodes` in time order
 */
export function caught(alarms: readonly ReplayedAlarm[], episodes: readonly Interval[]): Caught {
  const noticed: (number | null)[] = episodes.map(() => null);
  const isSustained = alarms.map(() => false);
  let first = 0;
  episodes.forEach(({ start, end }, i) => {
    while (first < alarms.length && alarms[first].end <= start) first++;
    for (let k = first; k < alarms.length && alarms[k].onset < end; k++) {
      isSustained[k] = true;
      noticed[i] ??= Math.max(start, alarms[k].onset);
    }
  });
  return { noticed, isSustained };
}

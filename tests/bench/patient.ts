import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import type { RandomGenerator } from 'pure-rand/types/RandomGenerator';

/** One invented patient at 1 Hz: mmHg, NaN where the cell is blank, and which seconds have no row at all. */
export interface Patient {
  /** Milliseconds UTC of the first second. */
  readonly start: number;
  readonly icp: Float64Array;
  readonly map: Float64Array;
  readonly hasNoRow: Uint8Array;
}

const FIRST_START = Date.UTC(2031, 1, 11, 10, 17, 23);
const HOUR = 3600;
/** mmHg; of every third patient. */
const HIGHEST_SHOWN = 42.5;

/** Numbers that are the same on each machine. */
class Dice {
  private readonly generator: RandomGenerator;
  constructor(seed: number) {
    this.generator = xoroshiro128plus(seed);
  }
  /** Evenly from `low` to `high`. */
  between(low: number, high: number): number {
    return low + ((this.generator.next() >>> 0) / 0x100000000) * (high - low);
  }
  whole(low: number, high: number): number {
    return Math.floor(this.between(low, high + 1));
  }
}

/** Calls back for stretches that come about so often an hour, with first second and end. */
function scatter(
  dice: Dice,
  seconds: number,
  perHour: number,
  length: readonly [number, number],
  paint: (from: number, to: number) => void,
): void {
  for (
    let at = dice.between(0, (2 * HOUR) / perHour);
    at < seconds;
    at += dice.between(0.2, 1.8) * (HOUR / perHour)
  ) {
    const from = Math.floor(at);
    paint(from, Math.min(seconds, from + dice.whole(...length)));
  }
}

/** Slow waves with noise that remembers: a level that wanders as a patient's does. */
function quiet(dice: Dice, seconds: number, level: number, swing: number, noise: number): Float64Array {
  const periods = [dice.between(4, 9) * HOUR, dice.between(300, 1500), dice.between(5, 9)];
  const sizes = [swing, swing / 4, noise];
  const phases = periods.map(() => dice.between(0, 2 * Math.PI));
  const values = new Float64Array(seconds);
  let memory = 0;
  for (let s = 0; s < seconds; s++) {
    memory = 0.9 * memory + dice.between(-noise, noise);
    let value = level + memory;
    for (let k = 0; k < 3; k++) value += sizes[k] * Math.sin((2 * Math.PI * s) / periods[k] + phases[k]);
    values[s] = value;
  }
  return values;
}

/** An invented patient, the same for the same number and length. */
export function inventedPatient(number: number, seconds: number): Patient {
  const dice = new Dice(20310211 + 7919 * number);
  const icp = quiet(dice, seconds, dice.between(9, 15), dice.between(2, 4), 0.5);
  const map = quiet(dice, seconds, dice.between(76, 94), dice.between(3, 8), 1);
  const hasNoRow = new Uint8Array(seconds);
  const put = (values: Float64Array, value: (s: number) => number) => (from: number, to: number) => {
    for (let s = from; s < to; s++) values[s] = value(s);
  };
  // Hypertension: up over minutes, a plateau, down again; in some the signal is lost for a minute or two.
  const lost: [number, number][] = [];
  scatter(dice, seconds, 1 / 7, [10 * 60, 70 * 60], (from, to) => {
    const height = dice.between(8, 22);
    for (let s = from; s < to; s++) icp[s] += height * Math.sin((Math.PI * (s - from)) / (to - from)) ** 0.7;
    const middle = Math.floor(from + (to - from) * dice.between(0.3, 0.7));
    if (dice.between(0, 1) < 0.5) lost.push([middle, Math.min(seconds, middle + dice.whole(20, 160))]);
  });
  // Coughs, which raise MAP too.
  scatter(dice, seconds, 4, [4, 25], (from, to) => {
    const height = dice.between(12, 35);
    for (let s = from; s < to; s++) {
      const share = Math.sin((Math.PI * (s - from + 0.5)) / (to - from));
      icp[s] += height * share;
      map[s] += (height / 3) * share;
    }
  });
  // Hypotension.
  scatter(dice, seconds, 1 / 12, [15 * 60, 50 * 60], (from, to) => {
    for (let s = from; s < to; s++) map[s] -= 22 * Math.sin((Math.PI * (s - from)) / (to - from));
  });
  // Some monitors show no more than a highest value, and ICP stays over it now and then.
  if (number % 3 === 0) {
    scatter(
      dice,
      seconds,
      1 / 8,
      [20, 600],
      put(icp, () => 60),
    );
    for (let s = 0; s < seconds; s++) icp[s] = Math.min(icp[s], HIGHEST_SHOWN);
  }
  // Under zero, with touches over it of seconds to more than half a minute.
  scatter(dice, seconds, 1 / 20, [8 * 60, 45 * 60], (from, to) => {
    put(icp, () => dice.between(-6, -0.2))(from, to);
    for (let at = from + dice.whole(20, 600); at < to - 60; at += dice.whole(60, 900))
      put(icp, () => dice.between(0, 0.6))(at, at + dice.whole(1, 40));
  });
  // Frozen values.
  for (const values of [icp, map])
    scatter(dice, seconds, 1 / 50, [3 * 60, 20 * 60], (from, to) => values.fill(values[from], from, to));
  for (const values of [icp, map])
    scatter(
      dice,
      seconds,
      1 / 16,
      [60, 240],
      put(values, () => 0),
    );
  for (const values of [icp, map])
    scatter(
      dice,
      seconds,
      1 / 20,
      [1, 400],
      put(values, () => 999),
    );
  scatter(
    dice,
    seconds,
    1 / 60,
    [1, 20],
    put(icp, () => -32),
  );
  // Blanks: single cells, which the line bridges, and whole stretches.
  for (const values of [icp, map]) {
    scatter(
      dice,
      seconds,
      2,
      [1, 3],
      put(values, () => Number.NaN),
    );
    scatter(
      dice,
      seconds,
      1 / 15,
      [5, 900],
      put(values, () => Number.NaN),
    );
  }
  scatter(dice, seconds, 1 / 3, [1, 4], (from, to) => hasNoRow.fill(1, from, to));
  scatter(dice, seconds, 1 / 30, [20, 600], (from, to) => hasNoRow.fill(1, from, to));
  for (const [from, to] of lost) icp.fill(Number.NaN, from, to);
  hasNoRow[0] = 0;
  // Patients come at different times of the day.
  return { start: FIRST_START + number * 4_517_000, icp, map, hasNoRow };
}

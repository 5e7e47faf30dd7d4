/**
 * How long the figures of perfusion take on signals in memory: `npm run bench:perfusion`. Prints figures and judges
 * nothing. Each time is CPU of one thread, the median of fresh computations in one process; the first of them, which
 * compiles, stands beside it. The ratio tells that the time grows with the recording and not with the window.
 */

import { difference } from '../../src/recording/difference.js';
import { wholeOf } from '../../src/recording/pieces.js';
import type { Recording } from '../../src/recording/recording.js';
import { ZoneClock } from '../../src/recording/zone.js';
import { hoursIn } from '../../src/summarize/calendar.js';
import { movingCorrelation } from '../../src/summarize/perfusion/moving-correlation.js';
import { summarizePerfusion } from '../../src/summarize/perfusion/summarize-perfusion.js';
import { listOf, wandering } from '../support/noise.js';
import { recordingOf } from '../support/recordings.js';
import { everySeconds } from '../support/signals.js';
import { ADULT } from '../support/targets.js';

const RUNS = 5;

const median = (values: readonly number[]): number => values.toSorted((a, b) => a - b)[values.length >> 1];

/** CPU seconds of the first run, and the median of those behind it. */
function cpu(work: () => unknown): { first: number; warm: number } {
  const seconds = Array.from({ length: RUNS + 1 }, () => {
    const before = process.cpuUsage();
    work();
    const { user, system } = process.cpuUsage(before);
    return (user + system) / 1e6;
  });
  return { first: seconds[0], warm: median(seconds.slice(1)) };
}

function patient(days: number): Recording {
  const [a, b, slow] = [wandering(1, 0.97), wandering(2, 0.97), wandering(3, 0.9999)];
  const shared = listOf(days * 86_400, a);
  return recordingOf({
    icp: everySeconds(1, [...shared.map((x) => Math.round(10 * (14 + 1.2 * x + b())) / 10)]),
    map: everySeconds(1, [...shared.map((x) => Math.round(85 + 4 * x + 10 * slow()))]),
  });
}

function timed(days: number): number {
  const recording = patient(days);
  const [icp, map] = [recording.channels.icp!.signal, recording.channels.map!.signal];
  const signals = { icp, map, cpp: difference(map, icp) };
  const period = wholeOf(icp);
  const hours = hoursIn(period, new ZoneClock('UTC'));
  const run = (hasOptimal: boolean) =>
    cpu(() => summarizePerfusion(recording, signals, { period, hours, targets: ADULT, hasOptimal }));
  const [all, without] = [run(true), run(false)];
  console.log(
    `${days} days at 1 Hz: everything with optimal CPP and 10 shuffled copies ${all.first.toFixed(2)} s at first, ${all.warm.toFixed(2)} s then; as in a morning report ${without.first.toFixed(2)} s, ${without.warm.toFixed(2)} s`,
  );
  return all.warm;
}

function windows(): void {
  const count = 10 * 8640;
  const [x, y] = [listOf(count, wandering(4, 0.9)), listOf(count, wandering(5, 0.9))];
  const grid = { binMs: 10_000, firstBin: 0, count };
  const of = (pairs: number): number =>
    cpu(() => movingCorrelation(x, y, grid, { pairs, leastPairs: pairs / 2 })).warm;
  of(30);
  const [short, long] = [of(30), of(3000)];
  console.log(
    `correlation of 10 days of 10-s means: windows of 5 min ${short.toFixed(3)} s, of 500 min ${long.toFixed(3)} s, ratio ${(long / short).toFixed(2)}`,
  );
}

const [ten, twenty] = [timed(10), timed(20)];
console.log(`twice the days: ${(twenty / ten).toFixed(2)} times as long`);
windows();

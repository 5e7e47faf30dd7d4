import { z } from 'zod';
import { difference } from '../recording/difference.js';
import { median } from '../recording/rolling-median.js';
import { firstAfter, firstAtOrAfter } from '../recording/search.js';
import { type Signal, withoutIntervals } from '../recording/signal.js';
import { openDrain } from './open-drain.js';
import { pearson } from './pearson.js';
import { medianAbsoluteDeviation } from './robust-spread.js';
import { type Mark, NOTHING, rule } from './rule.js';

const BLOCK_MS = 10 * 60_000;
const FEWEST_SAMPLES = 3;
/** A change of the difference by more than this from block to block is a zero or a stopcock, not a drift. */
const JUMP_MMHG = 2.5;

/**
 * A probe that drifts, seen against a drain that is read beside it: their difference moves by 4 mmHg or more, slowly, from
 * what it was in its first two hours. Suspect from there for as long as it lasts; where the probe came to read lower it
 * is left out. Jumps of the difference are no drift. Without a second source a drift cannot be told from the patient.
 * Works at 60 s or finer. Common practice, no source.
 */
export const drift = rule({
  name: 'drift',
  title: 'drift against the drain',
  parameters: z.strictObject({
    driftMmHg: z.number().positive().default(4),
    /** Correlation in 10 min from which on the two read the same pressure. */
    togetherR: z.number().min(0).max(1).default(0.5),
    referenceHours: z.number().positive().default(2),
    minSeconds: z.number().positive().default(1800),
  }),
  find(recording, parameters) {
    const { icp, icpDrain } = recording.channels;
    if (!icp || !icpDrain) return NOTHING;
    const open = openDrain
      .find(recording, openDrain.parameters.parse({}))
      .marks.filter(({ channel }) => channel === 'icpDrain');
    const drain = withoutIntervals(icpDrain.signal, open);
    const blocks = blocksOf(difference(icp.signal, drain), icp.signal, parameters.togetherR);
    return { marks: driftsIn(blocks, icp.signal, parameters), stoodAside: [] };
  },
});

interface Block {
  readonly start: number;
  readonly level: number;
}

/**
 * Medians of probe minus drain in blocks of 10 min in which the two move together; an open drain, or a probe that is out
 * of place, does not move with the other.
 */
function blocksOf(apart: Signal, icp: Signal, togetherR: number): Block[] {
  const { times, values, known } = apart;
  const blocks: Block[] = [];
  const cursor = { i: 0 };
  for (let i = 0; i < times.length; ) {
    const start = Math.floor(times[i] / BLOCK_MS) * BLOCK_MS;
    const differences: number[] = [];
    const probe: number[] = [];
    for (; i < times.length && times[i] < start + BLOCK_MS; i++) {
      if (!known[i] || !Number.isFinite(values[i])) continue;
      while (icp.times[cursor.i] < times[i]) cursor.i++;
      // Where the two are sampled apart, times of the drain alone tell nothing of how they move together.
      if (icp.times[cursor.i] !== times[i]) continue;
      differences.push(values[i]);
      probe.push(icp.values[cursor.i]);
    }
    if (differences.length < FEWEST_SAMPLES) continue;
    if (moveTogether(probe, differences) >= togetherR) blocks.push({ start, level: median(differences) });
  }
  return blocks;
}

/** Pearson correlation of probe and drain, from probe and probe minus drain, with coughs in one of them cut down. */
function moveTogether(probe: readonly number[], differences: readonly number[]): number {
  const drain = probe.map((x, i) => x - differences[i]);
  return pearson(cutDown(probe), cutDown(drain));
}

/** Beyond so many median absolute deviations a value is a cough or a stopcock. */
const CUT = 4;

function cutDown(values: readonly number[]): Float64Array {
  const all = Float64Array.from(values);
  const middle = median(all);
  const reach = CUT * medianAbsoluteDeviation(all);
  return all.map((x) => Math.min(middle + reach, Math.max(middle - reach, x)));
}

/**
 * How far the difference has moved slowly from its reference at each block, mmHg: jumps are left out, and a difference that is
 * back where it was has not moved.
 */
function slowMoves(blocks: readonly Block[], referenceMs: number, driftMmHg: number): number[] {
  if (blocks.length === 0) return [];
  const early = blocks.filter(({ start }) => start < blocks[0].start + referenceMs);
  const reference = median(early.map(({ level }) => level));
  let moved = 0;
  return blocks.map(({ level }, i) => {
    const change = i === 0 ? 0 : level - blocks[i - 1].level;
    if (Math.abs(change) <= JUMP_MMHG) moved += change;
    if (Math.abs(level - reference) < driftMmHg / 2) moved = level - reference;
    return moved;
  });
}

function driftsIn(
  blocks: readonly Block[],
  icp: Signal,
  {
    driftMmHg,
    referenceHours,
    minSeconds,
  }: { driftMmHg: number; referenceHours: number; minSeconds: number },
): Mark[] {
  const moves = slowMoves(blocks, referenceHours * 3_600_000, driftMmHg);
  const marks: Mark[] = [];
  for (let i = 0; i < blocks.length; i++) {
    if (Math.abs(moves[i]) < driftMmHg) continue;
    const first = i;
    const side = Math.sign(moves[i]);
    while (i + 1 < blocks.length && side * moves[i + 1] >= driftMmHg) i++;
    const from = firstAtOrAfter(icp.times, blocks[first].start);
    const to = firstAfter(icp.times, blocks[i].start + BLOCK_MS - 1) - 1;
    if (icp.times[to] - icp.times[from] < minSeconds * 1000) continue;
    const span = { start: icp.times[from], end: icp.times[to] };
    marks.push({
      channel: 'icp',
      rule: 'drift',
      grade: 'suspect',
      direction: side < 0 ? 'down' : 'up',
      ...span,
    });
  }
  return marks;
}

import { z } from 'zod';
import { difference } from '../recording/difference.js';
import { median } from '../recording/rolling-median.js';
import { firstAfter, firstAtOrAfter } from '../recording/search.js';
import { type Signal, withoutIntervals } from '../recording/signal.js';
import { openDrain } from './open-drain.js';
import { type Mark, NOTHING, rule } from './rule.js';

const BLOCK_MS = 10 * 60_000;
const FEWEST_SAMPLES = 3;
/** A change of the difference by more than this from block to block is a zero or a stopcock, not a drift. */
const JUMP_MMHG = 2.5;

/**
 * A probe that drifts, seen against a drain that is read beside it: their difference moves by 5 mmHg or more, slowly, from
 * what it was in its first two hours. Suspect from there for as long as it lasts; where the probe came to read lower it
 * is left out. Jumps of the difference are no drift. Without a second source a drift cannot be told from the patient.
 * Works at 60 s or finer. Common practice, no source.
 */
export const drift = rule({
  name: 'drift',
  title: 'drift against the drain',
  parameters: z.strictObject({
    driftMmHg: z.number().positive().default(5),
    referenceHours: z.number().positive().default(2),
    minSeconds: z.number().positive().default(1800),
  }),
  find(recording, parameters) {
    const { icp, icpDrain } = recording.channels;
    if (!icp || !icpDrain) return NOTHING;
    const open = openDrain.find(recording, {}).marks.filter(({ channel }) => channel === 'icpDrain');
    const apart = difference(icp.signal, withoutIntervals(icpDrain.signal, open));
    return { marks: driftsIn(apart, icp.signal, parameters), stoodAside: [] };
  },
});

interface Block {
  readonly start: number;
  readonly level: number;
}

/** Medians of the known values in blocks of 10 min. */
function blocksOf({ times, values, known }: Signal): Block[] {
  const blocks: Block[] = [];
  for (let i = 0; i < times.length; ) {
    const start = Math.floor(times[i] / BLOCK_MS) * BLOCK_MS;
    const inside: number[] = [];
    for (; i < times.length && times[i] < start + BLOCK_MS; i++) {
      if (known[i] && Number.isFinite(values[i])) inside.push(values[i]);
    }
    if (inside.length >= FEWEST_SAMPLES) blocks.push({ start, level: median(inside) });
  }
  return blocks;
}

/** How far the difference has moved slowly at each block, mmHg: jumps are left out. */
function slowMoves(blocks: readonly Block[], referenceMs: number): number[] {
  let moved = 0;
  const moves = blocks.map(({ level }, i) => {
    const change = i === 0 ? 0 : level - blocks[i - 1].level;
    if (Math.abs(change) <= JUMP_MMHG) moved += change;
    return moved;
  });
  const early = moves.filter((_, i) => blocks[i].start < blocks[0].start + referenceMs);
  const reference = early.length > 0 ? median(early) : 0;
  return moves.map((move) => move - reference);
}

function driftsIn(
  apart: Signal,
  icp: Signal,
  {
    driftMmHg,
    referenceHours,
    minSeconds,
  }: { driftMmHg: number; referenceHours: number; minSeconds: number },
): Mark[] {
  const blocks = blocksOf(apart);
  const moves = slowMoves(blocks, referenceHours * 3_600_000);
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

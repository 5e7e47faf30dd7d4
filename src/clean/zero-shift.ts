import { z } from 'zod';
import type { Interval } from '../recording/interval.js';
import type { Signal } from '../recording/signal.js';
import { ceilingOf } from './ceiling.js';
import { medianOver, samplesOver } from './median-over.js';
import { openDrain } from './open-drain.js';
import { type Mark, NOTHING, rule } from './rule.js';
import { tooCoarse } from './sampling-limit.js';
import { step } from './step.js';
import { withoutSamples } from './without-samples.js';
import { zeroingsIn } from './zeroings.js';

const COARSEST_SECONDS = 15;

/**
 * ICP reads another level behind a zeroing than before it, by 6 mmHg or more: either the old zero was wrong, or the new
 * one is, as when the transducer hung too high or the patient sat up. Nobody can tell which from the export. Suspect
 * until the next zeroing, for 12 h at most; lower levels are left out, higher ones stay in. Needs samples every 15 s; where they
 * are more than 5 s apart, the step is from one to the next.
 * Common practice, no source.
 */
export const zeroShift = rule({
  name: 'zeroShift',
  title: 'another level since the zeroing',
  parameters: z.strictObject({
    shiftMmHg: z.number().positive().default(6),
    levelSeconds: z.number().positive().default(120),
    untilMinutes: z.number().positive().default(720),
  }),
  find(recording, parameters) {
    const channel = recording.channels.icp;
    if (!channel) return NOTHING;
    const coarse = tooCoarse(channel, COARSEST_SECONDS);
    if (coarse) return { marks: [], stoodAside: [coarse] };
    // A zeroing that ends a pulled or pushed probe brings the level back.
    const steps = step.find(recording, step.parameters.parse({})).marks;
    // What the drip chamber read is no level of the patient.
    const open = openDrain.find(recording, openDrain.parameters.parse({})).marks;
    const signal = withoutSamples(
      channel.signal,
      open.filter(({ channel: kind }) => kind === 'icp'),
    );
    return {
      marks: shiftsIn(signal, channel.nominalIntervalMs, zeroingsIn(channel), steps, parameters),
      stoodAside: [],
    };
  },
});

interface ShiftShape {
  readonly shiftMmHg: number;
  readonly levelSeconds: number;
  readonly untilMinutes: number;
}

/** A step that ends this close to a zeroing was ended by it. */
const MENDS_MS = 20_000;
/** A level whose two halves differ by more than this is on its way, mmHg: it may well be another one behind a zeroing. */
const STEADY_MMHG = 3;

/** It also stood there for most of this long: a zeroing may hide the end of a wave. */
const STOOD_MS = 30 * 60_000;
/** Of which so much has to be known. */
const LEAST_STOOD_MS = 10 * 60_000;

/** The median next to an instant, before it (-1) or behind it (1), where ICP stands there; NaN where it rises, falls or is not known. */
function steadyLevel(signal: Signal, at: number, side: -1 | 1, ms: number, nominalMs: number): number {
  const over = (from: number, to: number): number =>
    side === 1 ? medianOver(signal, at + 1 + from, at + to) : medianOver(signal, at - to, at - 1 - from);
  const level = over(0, 2 * ms);
  const [from, to] = side === 1 ? [at + 1, at + STOOD_MS] : [at - STOOD_MS, at - 1];
  const stood = samplesOver(signal, from, to);
  if (stood.length * nominalMs < LEAST_STOOD_MS) return Number.NaN;
  const others = [over(0, ms), over(ms, 2 * ms), over(0, STOOD_MS)];
  return others.every((other) => Math.abs(other - level) <= STEADY_MMHG) ? level : Number.NaN;
}

function shiftsIn(
  signal: Signal,
  nominalMs: number,
  zeroings: readonly Interval[],
  steps: readonly Mark[],
  shape: ShiftShape,
): Mark[] {
  const { times } = signal;
  const ms = shape.levelSeconds * 1000;
  const ceiling = ceilingOf(signal) ?? Number.POSITIVE_INFINITY;
  const marks: Mark[] = [];
  /** The shift that is still on; its end is a return and no shift of its own. */
  let standing = { shift: 0, until: 0 };
  zeroings.forEach(({ start, end }, i) => {
    const before = steadyLevel(signal, start, -1, ms, nominalMs);
    const after = steadyLevel(signal, end, 1, ms, nominalMs);
    const shift = after - before;
    const isReturn =
      start <= standing.until && shift * -Math.sign(standing.shift) >= Math.abs(standing.shift) / 2;
    if (isReturn && standing.shift !== 0) {
      standing = { shift: 0, until: 0 };
      return;
    }
    // A zero that was lost, so that ICP read under 0, is mended by the next one; at the ceiling no level is known.
    const undoes = shift > 0 ? 'down' : 'up';
    const isMended =
      before < 0 ||
      before >= ceiling ||
      steps.some((one) => one.direction === undoes && Math.abs(one.end - start) <= MENDS_MS);
    if (!(Math.abs(shift) >= shape.shiftMmHg) || isMended) return;
    standing = { shift, until: end + shape.untilMinutes * 60_000 };
    const next = zeroings[i + 1]?.start ?? Number.POSITIVE_INFINITY;
    const until = Math.min(next - 1, standing.until, times[times.length - 1]);
    const direction = shift < 0 ? 'down' : 'up';
    marks.push({
      channel: 'icp',
      rule: 'zeroShift',
      grade: 'suspect',
      direction,
      start: end + 1,
      end: until,
    });
  });
  return marks;
}

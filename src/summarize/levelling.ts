import type { CareEntry } from '../recording/care.js';
import type { Interval } from '../recording/interval.js';
import type { Signal } from '../recording/signal.js';

/** Density of blood, kg/m3, and the standard acceleration of gravity, m/s2. */
const BLOOD_KG_PER_M3 = 1060;
const GRAVITY_M_PER_S2 = 9.80665;
/** Source: NIST SP 811. */
const PASCAL_PER_MMHG = 133.3224;

/** What a column of blood of one centimetre weighs, mmHg. Hydrostatics: density x gravity x height. */
export const MMHG_PER_CM = (BLOOD_KG_PER_M3 * GRAVITY_M_PER_S2 * 0.01) / PASCAL_PER_MMHG;

/** What the pipeline file says of the level at which the arterial line was zeroed. */
export interface Levelling {
  readonly zeroedAt: 'heart' | 'ear';
  /** How far the ear lies above the heart, where that was measured. */
  readonly verticalCm?: number | undefined;
  /** Length from heart to ear along the body, where the angle gives the height. */
  readonly heartToEarCm?: number | undefined;
  /** The angle throughout, or before the first entry of the care log. */
  readonly headOfBedDegrees?: number | undefined;
  readonly headOfBed?: 'careLog' | undefined;
}

/** What MAP is taken down by over a stretch of time, ends in milliseconds UTC, the first and the last one open. */
export interface LevelStep extends Interval {
  /** Null where no angle was given or needed. */
  readonly headOfBedDegrees: number | null;
  /** The ear above the heart; null where the angle is not known. */
  readonly verticalCm: number | null;
  /** MAP at ear level is MAP minus this, mmHg; null where it is not known. */
  readonly correctionMmHg: number | null;
}

interface Angle {
  readonly start: number;
  readonly degrees: number | null;
}

/** The angles of the care log from when on; where two entries of one time contradict each other, none is known. */
function loggedAngles(care: readonly CareEntry[]): Angle[] {
  const angles: Angle[] = [];
  for (const { start, angleDegrees } of care) {
    if (angleDegrees === null) continue;
    const last = angles.at(-1);
    if (last?.start !== start) angles.push({ start, degrees: angleDegrees });
    else if (last.degrees !== angleDegrees) angles[angles.length - 1] = { start, degrees: null };
  }
  return angles;
}

const stepOver = (span: Interval, headOfBedDegrees: number | null, verticalCm: number | null): LevelStep => ({
  ...span,
  headOfBedDegrees,
  verticalCm,
  correctionMmHg: verticalCm === null ? null : verticalCm * MMHG_PER_CM,
});

const ALWAYS: Interval = { start: Number.NEGATIVE_INFINITY, end: Number.POSITIVE_INFINITY };

/**
 * What MAP has to be taken down by to stand at ear level, over all time: MAP at ear level = MAP at heart level - 0.78
 * mmHg/cm x how far the ear lies above the heart (given, or heart-to-ear length x sine of the head-of-bed angle). An
 * angle of the care log holds from its entry to the next one that gives an angle. Source: hydrostatics.
 *
 * @param care entries by start
 * @returns none where no correction was asked for or is needed
 */
export function levelSteps(levelling: Levelling | undefined, care: readonly CareEntry[] = []): LevelStep[] {
  if (levelling === undefined || levelling.zeroedAt === 'ear') return [];
  const { verticalCm, heartToEarCm = 0, headOfBedDegrees, headOfBed } = levelling;
  if (verticalCm !== undefined) return [stepOver(ALWAYS, null, verticalCm)];
  const angles: Angle[] = [
    { start: ALWAYS.start, degrees: headOfBedDegrees ?? null },
    ...(headOfBed === 'careLog' ? loggedAngles(care) : []),
  ];
  const changes = angles.filter(({ degrees }, i) => i === 0 || degrees !== angles[i - 1].degrees);
  return changes.map(({ start, degrees }, i) =>
    stepOver(
      { start, end: changes[i + 1]?.start ?? ALWAYS.end },
      degrees,
      degrees === null ? null : heartToEarCm * Math.sin((degrees * Math.PI) / 180),
    ),
  );
}

/**
 * MAP as CPP rests on it: each sample is taken to ear level by the step that it stands in. A sample of which the step is
 * not known is unknown, with the pieces that touch it.
 *
 * @param steps of `levelSteps`; where there are none, the signal itself is given back
 */
export function levelled(map: Signal, steps: readonly LevelStep[]): Signal {
  if (steps.length === 0) return map;
  const { times } = map;
  const values = map.values.slice();
  const known = map.known.slice();
  let step = 0;
  for (let i = 0; i < times.length; i++) {
    while (times[i] >= steps[step].end) step++;
    const { correctionMmHg } = steps[step];
    if (correctionMmHg !== null) values[i] -= correctionMmHg;
    else {
      known[i] = 0;
      if (i > 0) known[i - 1] = 0;
    }
  }
  return { times, values, known };
}

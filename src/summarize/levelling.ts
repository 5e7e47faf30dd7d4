import type { CareEntry } from '../recording/care.js';
import type { TakenOff } from '../recording/difference.js';
import type { Interval } from '../recording/interval.js';

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

/**
 * The angles of the care log from when on. Where an entry on the head of the bed gives none, or two of one time
 * contradict each other, none is known until the next one that gives it: the bed was moved, and nobody says how far.
 */
function loggedAngles(care: readonly CareEntry[]): Angle[] {
  const byStart = new Map<number, Set<number>>();
  for (const { start, kinds, angleDegrees } of care) {
    if (!kinds.includes('headOfBed')) continue;
    const given = byStart.get(start) ?? new Set();
    byStart.set(start, angleDegrees === null ? given : given.add(angleDegrees));
  }
  return Array.from(byStart, ([start, given]) => ({
    start,
    degrees: given.size === 1 ? [...given][0] : null,
  }));
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
 * angle of the care log holds from its entry to the next one on the head of the bed. Source: hydrostatics.
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

/** What is taken off MAP for CPP: a step changes at its instant, also between two samples of MAP. */
export const takenOffMap = (steps: readonly LevelStep[]): TakenOff[] =>
  steps.map(({ start, end, correctionMmHg }) => ({ start, end, amount: correctionMmHg }));

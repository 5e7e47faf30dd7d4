import type { WrittenEntry } from '../ingest/tables/care-entries.js';
import { overlaps, totalMs } from '../recording/interval.js';
import type { ZoneClock } from '../recording/zone.js';
import { HOUR_MS } from '../summarize/hour.js';
import type { Levelling, LevelStep } from '../summarize/levelling.js';
import type { ReportPeriod } from '../summarize/period.js';
import { ends } from './ends.js';
import type { RecordingResult } from './results-schema.js';
import { unknownAngles } from './unknown-angles.js';
import { duration, pressure } from './words.js';

type LevellingResult = RecordingResult['levelling'];

const NO_ANGLE = 'the angle of the head of the bed is not known';

/** What is asked of levelling, and what came of it. */
interface Levelled {
  readonly levelling: Levelling | undefined;
  /** Null where the recording holds no MAP. */
  readonly steps: readonly LevelStep[] | null;
  /** Entries of the care log, by start; null where no log was given. */
  readonly care: readonly WrittenEntry[] | null;
  readonly period: ReportPeriod;
}

const shortest = (value: number): string => String(Number(value.toFixed(1)));

/** `11.7`, `7.8 to 11.7`. */
function range(values: readonly number[], write: (value: number) => string): string {
  const [low, high] = [Math.min(...values), Math.max(...values)].map(write);
  return low === high ? low : `${low} to ${high}`;
}

/** Where the height comes from: `30 cm from heart to ear with the head of the bed at 20 to 30 degrees`. */
function heightWords(
  { verticalCm, heartToEarCm, headOfBed }: Levelling,
  steps: readonly LevelStep[],
): string {
  if (verticalCm !== undefined) {
    return `the ear lies ${shortest(Math.abs(verticalCm))} cm ${verticalCm < 0 ? 'below' : 'above'} it`;
  }
  const angles = steps.flatMap(({ headOfBedDegrees }) => headOfBedDegrees ?? []);
  const source = headOfBed === 'careLog' ? ', by the care log' : '';
  return `${heartToEarCm} cm from heart to ear, head of the bed at ${range(angles, shortest)} degrees${source}`;
}

/** The one line that stands wherever CPP does. */
function noteOf(
  levelling: Levelling,
  steps: readonly LevelStep[],
  unknownHours: number,
  why: readonly string[],
): string {
  const corrections = steps.flatMap(({ correctionMmHg }) => correctionMmHg ?? []);
  const unknown =
    unknownHours === 0
      ? ''
      : [` For ${duration(unknownHours)} ${NO_ANGLE}, and so CPP is not known either.`, ...why].join(' ');
  if (corrections.length === 0) {
    return `CPP needs MAP at ear level, and the line was zeroed at the heart.${unknown}`;
  }
  const isUp = Math.max(...corrections) < 0;
  const sizes = corrections.map((mmHg) => (isUp ? -mmHg : mmHg));
  const by = range(sizes, (mmHg) => pressure(mmHg, 1));
  return `For CPP, MAP was taken ${isUp ? 'up' : 'down'} by ${by} mmHg to ear level: the line was zeroed at the heart, and ${heightWords(levelling, steps)}.${unknown}`;
}

/** Puts what was done about the level of MAP into the form of results.json. */
export function levellingResult(
  { levelling, steps, care, period }: Levelled,
  clock: ZoneClock,
): LevellingResult {
  const none = { note: null, asZeroedNote: null, steps: [], unknownHours: 0 };
  if (levelling === undefined || levelling.zeroedAt === 'ear' || steps === null) {
    const asZeroedNote =
      steps === null
        ? null
        : levelling === undefined
          ? 'CPP is as the lines were zeroed; nothing says at which level, and nothing was corrected.'
          : 'The arterial line was zeroed at the ear, as the pipeline file says: CPP needs no correction.';
    return { ...none, zeroedAt: levelling?.zeroedAt ?? null, asZeroedNote };
  }
  const reaching = steps.filter((step) => overlaps(step, period));
  const inside = reaching.map((step) => ({
    ...step,
    start: Math.max(step.start, period.start),
    end: Math.min(step.end, period.end),
  }));
  const unknownHours = totalMs(inside.filter(({ correctionMmHg }) => correctionMmHg === null)) / HOUR_MS;
  return {
    zeroedAt: levelling.zeroedAt,
    note: noteOf(levelling, inside, unknownHours, unknownAngles(reaching, care ?? [], period, clock)),
    asZeroedNote: null,
    steps: inside.map((step) => ({
      ...step,
      ...ends(step, clock),
      ...(step.correctionMmHg === null ? { correctionMmHgReason: NO_ANGLE } : {}),
    })),
    unknownHours,
  };
}

/** Of the unit: that CPP is no plain difference of what the monitors show; null where it is. */
export function unitLevellingNote(levelling: Levelling | undefined): string | null {
  return levelling?.zeroedAt === 'heart'
    ? "CPP is MAP at ear level minus ICP: each patient's page says by how much MAP was taken down."
    : null;
}

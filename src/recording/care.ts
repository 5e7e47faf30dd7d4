/** What was done at the bed, as far as rules and reports tell it apart. */
export const CARE_KINDS = [
  'turn',
  'suction',
  'zeroing',
  'drainOpen',
  'drainClosed',
  'travel',
  'headOfBed',
  'treatment',
  'other',
] as const;
export type CareKind = (typeof CARE_KINDS)[number];

/** One entry of a patient's care log; times in milliseconds since 1970-01-01 UTC. */
export interface CareEntry {
  readonly start: number;
  /** Null where the log gives none. */
  readonly end: number | null;
  /** All that the entry tells of, in its order: `turned and suctioned` is two. */
  readonly kinds: readonly CareKind[];
  /** Of the head of the bed, where the entry gives it. */
  readonly angleDegrees: number | null;
}

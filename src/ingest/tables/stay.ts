import type { RowPlace } from './describe.js';

/** A patient's stay in a bed; times are milliseconds UTC. */
export interface Stay extends RowPlace {
  readonly patient: string;
  readonly bed: string;
  readonly unit: string | null;
  /** Included. */
  readonly fromUtcMs: number;
  /** Excluded; null while the patient still lies there. */
  readonly toUtcMs: number | null;
}

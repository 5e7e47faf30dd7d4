import type { Outcome } from '../../ingest/tables/outcome.js';

/** An outcome as a number, higher is better: the level of its scale; of mortality 1 for alive and 0 for dead. */
export const outcomeCode = (outcome: Outcome): number =>
  outcome.scale === 'mortality' ? Number(!outcome.isDead) : outcome.value;

import type { Results } from '../results-schema.js';

/** Recordings whose figures go into tables. */
export type Reported = Pick<Results, 'recordings'>;

import type { RecordingResult } from '../../src/report/results-schema.js';

/** What a recording says of levelling where the pipeline file says nothing. */
export const AS_ZEROED: RecordingResult['levelling'] = {
  zeroedAt: null,
  note: null,
  asZeroedNote: null,
  steps: [],
  unknownHours: 0,
};

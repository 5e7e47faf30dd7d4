import type { PerfusionResult } from '../results-perfusion.js';
import type { RecordingResult } from '../results-schema.js';

/** Time and dose below the lowest band of CPP, which may be the floor too; null where there are no bands. */
export const belowLowest = ({
  cpp,
  perfusion,
}: Pick<RecordingResult, 'cpp' | 'perfusion'>): PerfusionResult['below'][number] | null =>
  perfusion.below.find(({ belowMmHg }) => belowMmHg === cpp.bands[0]?.toMmHg) ?? null;

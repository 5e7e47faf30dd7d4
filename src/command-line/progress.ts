import { jsonLog } from './json-log.js';
import { progressLines } from './progress-lines.js';
import type { Progress, ProgressStream } from './reporter.js';

/** Narrower than this is no terminal that a person looks at; some say 0, which would make a moving line endless. */
const LEAST_COLUMNS = 20;

/** One moving line on a terminal, a line a patient elsewhere, or JSON for machines. */
export async function progressOn(
  isJson: boolean,
  stream: ProgressStream = process.stderr,
): Promise<Progress> {
  if (isJson) return jsonLog(stream);
  if (!stream.isTTY || stream.columns < LEAST_COLUMNS) return progressLines(stream);
  // Only a terminal needs it, and it takes a while to load.
  const { progressLine } = await import('./progress-line.js');
  return progressLine(stream);
}

import type { RecordingResult } from '../results-schema.js';
import { listed } from '../words.js';

/** More files than this are told by the first and the last; the page in detail names each. */
const MOST_FILES = 3;

/** `From 101.csv.`, `From 13 files, 131-19.csv to 131-07.csv.` */
export function filesWords({ files }: Pick<RecordingResult, 'files'>): string {
  const names = files.map(({ file }) => file);
  return names.length > MOST_FILES
    ? `From ${names.length} files, ${names[0]} to ${names[names.length - 1]}.`
    : `From ${listed(names)}.`;
}

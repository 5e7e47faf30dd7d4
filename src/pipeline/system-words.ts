import { Problem } from '../recording/problem.js';

const WORDS: Readonly<Record<string, readonly [what: string, fix: string]>> = {
  ENOSPC: ['the disk is full', 'Make room there'],
  EDQUOT: ['your share of the disk is used up', 'Make room there'],
  EROFS: ['the disk is read-only', 'Choose another folder with --out'],
  EACCES: ['you may not write there', 'Choose another folder with --out'],
  ENOTDIR: ['a file stands where a folder is meant', 'Choose another folder with --out'],
  EPERM: ['you may not write there', 'Choose another folder with --out'],
};

/** An error code of the system, with what it means where that helps: `ENOSPC: the disk is full`. */
export const systemWords = (code: string): string => (WORDS[code] ? `${code}: ${WORDS[code][0]}` : code);

/** An error of the system while a report was written, for the person at the keyboard; any other error as it is. */
export function writingProblem(error: unknown, folder: string): unknown {
  const { code, syscall } = error as NodeJS.ErrnoException;
  if (error instanceof Problem || code === undefined || syscall === undefined) return error;
  const fix = WORDS[code]?.[1] ?? 'Look at the folder';
  return new Problem(
    `the report cannot be written to ${folder} (${systemWords(code)})`,
    `${fix}, then run again. Nothing was changed there.`,
  );
}

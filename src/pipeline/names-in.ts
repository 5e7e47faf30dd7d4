import { readdir } from 'node:fs/promises';

/** True for an error of the system with one of the codes. */
export const hasCode = (error: unknown, ...codes: readonly string[]): boolean =>
  codes.includes((error as NodeJS.ErrnoException).code ?? '');

/** The names in a folder; none where it is not there. */
export async function namesIn(folder: string): Promise<string[]> {
  try {
    return await readdir(folder);
  } catch (error) {
    if (hasCode(error, 'ENOENT')) return [];
    throw error;
  }
}

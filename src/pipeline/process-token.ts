import { randomBytes } from 'node:crypto';

/** A name for what one run writes: the number of its process, and chance for two runs in one process. */
export const newToken = (): string => `${process.pid}-${randomBytes(4).toString('hex')}`;

/** True while the process that made the token runs. */
export function isLive(token: string): boolean {
  try {
    process.kill(Number.parseInt(token, 10), 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

import { createHash, randomBytes } from 'node:crypto';
import { readlinkSync } from 'node:fs';
import { hostname } from 'node:os';

/** Of containers with one host name, which count processes each for itself; blank where the system has none. */
function processSpace(): string {
  try {
    return readlinkSync('/proc/self/ns/pid');
  } catch {
    return '';
  }
}

/** Tells apart machines, and containers on one, that share a folder. */
const MACHINE = createHash('sha256').update(`${hostname()} ${processSpace()}`).digest('hex').slice(0, 8);
const CHANCE_BYTES = 4;

/** A name for what one run writes: the number of its process, chance for two runs in one process, and the machine. */
export const newToken = (): string => `${process.pid}-${randomBytes(CHANCE_BYTES).toString('hex')}${MACHINE}`;

/** True for a token of another machine, whose processes cannot be asked for. */
export function isElsewhere(token: string): boolean {
  const machine = token.slice(token.indexOf('-') + 1 + 2 * CHANCE_BYTES);
  return machine !== '' && machine !== MACHINE;
}

/** True while the process that made the token runs, as far as this machine can tell: one of another machine may. */
export function isLive(token: string): boolean {
  if (isElsewhere(token)) return true;
  try {
    process.kill(Number.parseInt(token, 10), 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

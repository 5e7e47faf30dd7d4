import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/**
 * Runs a script of the benchmark in a folder of its own, which is removed afterwards, also where the script is
 * interrupted. What it gives is the exit status; an error is said as one sentence, with status 2.
 *
 * @param within where the folder is made
 * @param isKept false: it is removed
 */
export async function asScript(
  name: string,
  work: (scratch: string) => Promise<number>,
  { within = tmpdir(), isKept = false } = {},
): Promise<void> {
  const scratch = mkdtempSync(join(within, `cistern-${name}-`));
  const tidy = (): void => {
    if (isKept) process.stderr.write(`Kept: ${scratch}\n`);
    else rmSync(scratch, { recursive: true, force: true });
  };
  for (const signal of ['SIGINT', 'SIGTERM'] as const) {
    process.once(signal, () => {
      tidy();
      process.exit(130);
    });
  }
  try {
    process.exitCode = await work(scratch);
  } catch (error) {
    process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
    process.exitCode = 2;
  } finally {
    tidy();
  }
}

import { InvalidArgumentError } from 'commander';
import { deidentify } from '../pipeline/deidentify/deidentify.js';
import { Problem } from '../recording/problem.js';
import { TIMES_MODES, type TimesMode } from '../report/deidentify/shared-times.js';
import { sharedWords, sharingSentence } from '../report/deidentify/sharing-words.js';
import { onInterrupt } from './interrupt.js';
import { lines, told } from './told.js';

/** What is given to `deidentify`. */
export interface DeidentifyFlags {
  data?: string[];
  set?: string[];
  out: string;
  key: string;
  times?: TimesMode;
  days?: number;
}

/** The argument of --times. */
export function timesMode(text: string): TimesMode {
  const mode = TIMES_MODES.find((one) => one === text);
  if (mode !== undefined) return mode;
  throw new InvalidArgumentError(`${TIMES_MODES.join(' or ')} is expected.`);
}

/** The argument of --days; ten years are enough for any chart. */
export function dayCount(text: string): number {
  const days = Number(text);
  if (Number.isInteger(days) && days >= 1 && days <= 3650) return days;
  throw new InvalidArgumentError('A whole number of days from 1 to 3650 is expected.');
}

/** `cistern deidentify`: gives the exit status. */
export async function deidentifyCommand(pipeline: string, flags: DeidentifyFlags): Promise<number> {
  const interrupt = onInterrupt();
  const say = (sentence: string): void => void process.stderr.write(told(sentence));
  try {
    const { folder, key, account, failed } = await deidentify(pipeline, {
      ...flags,
      signal: interrupt.signal,
      onGroup: (done, of) => say(`${done} of ${of} read`),
    });
    process.stdout.write(
      lines([
        sharingSentence(account),
        ...sharedWords(account),
        `The set is in ${folder}. A privacy officer decides whether it may be passed on: open ${folder}/report.html`,
        `Who is who stands in ${key}, which only you may open. Keep it apart from the set.`,
        '',
      ]),
    );
    for (const { id, why } of failed) say(`patient ${id} failed and is left out: ${why}`);
    return failed.length > 0 ? 1 : 0;
  } catch (error) {
    if (interrupt.signal.aborted) {
      say('interrupted; nothing was written.');
      return 130;
    }
    if (!(error instanceof Problem)) throw error;
    say(error.message);
    return 2;
  } finally {
    interrupt.release();
  }
}

import type { Paper } from '../pipeline/print/paper.js';
import type { RunEvent } from '../pipeline/run-event.js';
import { runPipeline } from '../pipeline/run-pipeline.js';
import { Problem } from '../recording/problem.js';
import { onInterrupt } from './interrupt.js';
import { progressOn } from './progress.js';
import { interruptedText, writtenText } from './say.js';

/** What is given to `run`. */
export interface RunFlags {
  data?: string[];
  set?: string[];
  out?: string;
  threads?: number;
  strict?: boolean;
  pages?: boolean;
  pdf?: boolean;
  paper?: Paper;
  fresh?: boolean;
  jsonLog?: boolean;
}

/** `cistern run`: gives the exit status. */
export async function run(pipeline: string, flags: RunFlags): Promise<number> {
  const progress = await progressOn(flags.jsonLog ?? false);
  const interrupt = onInterrupt();
  // Of the first pass, which reads everything: what a second one does again is kept already.
  let far = { kept: 0, of: 0 };
  const onEvent = (event: RunEvent): void => {
    progress.event(event);
    if (event.event === 'start' && event.pass === 1) far = { kept: 0, of: event.patients };
    else if ('kept' in event && event.pass === 1) far = { kept: event.kept, of: event.of };
  };
  try {
    const outcome = await runPipeline(pipeline, { ...flags, onEvent, signal: interrupt.signal });
    progress.end();
    process.stdout.write(writtenText(outcome, flags.pages ?? true));
    for (const { file, warnings } of outcome.unit.logs)
      for (const warning of warnings) progress.say(`${file}: ${warning}`, { event: 'warning' });
    for (const warning of outcome.warnings) progress.say(warning, { event: 'warning' });
    for (const { id, why } of outcome.unit.failed)
      progress.say(`patient ${id} failed: ${why}`, { event: 'failed' });
    return outcome.unit.failed.length > 0 || outcome.unprinted.length > 0 ? 1 : 0;
  } catch (error) {
    progress.end();
    if (interrupt.signal.aborted) {
      progress.say(interruptedText(far), { event: 'interrupted', ...far });
      return 130;
    }
    if (!(error instanceof Problem)) throw error;
    progress.say(error.message, { event: 'refused' });
    return 2;
  } finally {
    interrupt.release();
  }
}

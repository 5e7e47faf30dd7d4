import { visibleJson } from '../report/visible-text.js';
import type { Progress, ProgressStream } from './reporter.js';

/** An object a line, each with `event` and the time. */
export function jsonLog(stream: Pick<ProgressStream, 'write'>): Progress {
  const write = (content: object): void => {
    stream.write(`${visibleJson(JSON.stringify({ time: new Date().toISOString(), ...content }))}\n`);
  };
  return {
    event: write,
    end: () => {},
    say: (text, of) => {
      if (of.event !== 'failed') write({ ...of, text });
    },
  };
}

import type { PatientEvent } from '../pipeline/run-event.js';
import { counted } from '../report/words.js';
import { Pace } from './pace.js';
import type { Progress, ProgressStream } from './reporter.js';
import { told } from './told.js';

const outcome = ({ event, rows }: PatientEvent): string =>
  event === 'failed' ? 'failed' : event === 'reused' ? 'as it was stored' : `${counted(rows, 'row')} read`;

/** A line a patient, for a file or a pipe. */
export function progressLines(stream: Pick<ProgressStream, 'write'>): Progress {
  const pace = new Pace();
  const write = (text: string): void => {
    stream.write(told(text));
  };
  return {
    event: (event) => {
      pace.take(event);
      if (event.event === 'start') {
        if (event.pass === 2)
          write(`${counted(event.patients, 'patient')} again, over the night of the unit`);
      } else if ('patient' in event) {
        const { finished, of, patient } = event;
        write(`${finished} of ${of}, patient ${patient}: ${outcome(event)}${pace.words()}`);
      } else if (event.event === 'printing') {
        write(`printing ${counted(event.pages, 'page')}`);
      }
    },
    end: () => {},
    say: write,
  };
}

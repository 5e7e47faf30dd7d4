import type { WriteStream } from 'node:tty';
import ora from 'ora';
import { counted } from '../report/words.js';
import { Pace } from './pace.js';
import type { Progress, ProgressStream } from './reporter.js';
import { told } from './told.js';

/** A single line that tells how far a run is, for a terminal. */
export function progressLine(stream: ProgressStream): Progress {
  // Enabled here and not by ora's guess, which also asks the environment.
  const line = ora({
    text: 'reading',
    stream: stream as WriteStream,
    isEnabled: true,
    discardStdin: false,
  }).start();
  const pace = new Pace();
  return {
    event: (event) => {
      pace.take(event);
      if (event.event === 'start') {
        line.text = event.pass === 1 ? 'reading' : `${event.patients} again, over the night of the unit`;
      } else if ('patient' in event) {
        line.text = `${event.finished} of ${event.of} patients${pace.words()}`;
      } else if (event.event === 'printing') {
        line.text = `printing ${counted(event.pages, 'page')}`;
      } else if (event.event === 'printed') {
        line.text = `printed ${event.finished} of ${counted(event.of, 'page')}`;
      }
    },
    end: () => {
      line.stop();
    },
    say: (text) => {
      stream.write(told(text));
    },
  };
}

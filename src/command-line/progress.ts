import type { WriteStream } from 'node:tty';
import ora from 'ora';

/** Narrower than this is no terminal that a person looks at; some say 0, which would make the line count endless. */
const LEAST_COLUMNS = 20;

/** A line that tells how far a run is: on a terminal only. */
export function progressLine(stream: Pick<WriteStream, 'isTTY' | 'columns'> = process.stderr): {
  show: (done: number, all: number) => void;
  end: () => void;
} {
  if (!stream.isTTY || !(stream.columns >= LEAST_COLUMNS)) return { show: () => {}, end: () => {} };
  // Enabled here and not by ora's guess, which also asks the environment.
  const line = ora({
    text: 'reading',
    stream: stream as WriteStream,
    isEnabled: true,
    discardStdin: false,
  }).start();
  return {
    show: (done, all) => {
      line.text = `${done} of ${all} patients`;
    },
    end: () => {
      line.stop();
    },
  };
}

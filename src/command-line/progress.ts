import ora from 'ora';

/** A line that tells how far a run is: on a terminal only, on standard error. */
export function progressLine(): { show: (done: number, all: number) => void; end: () => void } {
  if (!process.stderr.isTTY) return { show: () => {}, end: () => {} };
  const line = ora({ text: 'reading', stream: process.stderr, discardStdin: false }).start();
  return {
    show: (done, all) => {
      line.text = `${done} of ${all} patients`;
    },
    end: () => {
      line.stop();
    },
  };
}

import { program } from '../../src/command-line/program.js';
import { type CliOutcome, partProgress } from './cistern.js';

/** Runs the command line from its sources in this process, in a folder; several at once would mix their output. */
export async function commandLine(args: readonly string[], cwd: string): Promise<CliOutcome> {
  const said = { stdout: '', stderr: '' };
  const channels = ['stdout', 'stderr'] as const;
  const writes = channels.map((channel) => process[channel].write);
  const before = process.cwd();
  process.chdir(cwd);
  for (const channel of channels) {
    process[channel].write = (text: string | Uint8Array): boolean => {
      said[channel] += String(text);
      return true;
    };
  }
  try {
    const status = await program(args);
    return { status, stdout: said.stdout, ...partProgress(said.stderr) };
  } finally {
    channels.forEach((channel, i) => {
      process[channel].write = writes[i];
    });
    process.chdir(before);
  }
}

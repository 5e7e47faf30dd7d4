#!/usr/bin/env node
import { CommanderError } from 'commander';
import { visibleText } from '../report/visible-text.js';
import { program } from './program.js';

/** Whoever reads what is printed may stop reading, as `head` does: then there is nobody to tell. */
for (const stream of [process.stdout, process.stderr]) {
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') throw error;
  });
}

/** Exit statuses: 0 all written; 1 written, but some patients failed; 2 refused or usage; 130 interrupted. */
try {
  process.exitCode = await program(process.argv.slice(2));
} catch (error) {
  if (error instanceof CommanderError) process.exitCode = error.exitCode === 0 ? 0 : 2;
  else {
    const fault = (error as Error).stack ?? String(error);
    process.stderr.write(visibleText(`cistern: this is a fault of the program: ${fault}\n`));
    process.exitCode = 2;
  }
}

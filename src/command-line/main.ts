#!/usr/bin/env node
import { CommanderError } from 'commander';
import { program } from './program.js';

/** Exit statuses: 0 all written; 1 written, but some patients failed; 2 refused or usage; 130 interrupted. */
try {
  process.exitCode = await program(process.argv.slice(2));
} catch (error) {
  if (error instanceof CommanderError) process.exitCode = error.exitCode === 0 ? 0 : 2;
  else {
    process.stderr.write(`cistern: this is a fault of the program: ${(error as Error).stack ?? error}\n`);
    process.exitCode = 2;
  }
}

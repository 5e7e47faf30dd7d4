import { oneLine } from '../report/visible-text.js';

/** A sentence for the error channel: one line, in which names out of files can neither move the cursor nor begin another line. */
export const told = (text: string): string => `cistern: ${oneLine(text)}\n`;

/** Lines for a terminal, each of which stays one. */
export const lines = (texts: readonly string[]): string => texts.map(oneLine).join('\n');

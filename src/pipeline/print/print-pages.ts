import { setMaxListeners } from 'node:events';
import { counted, listed } from '../../report/words.js';
import { namesIn } from '../names-in.js';
import type { PrintEvent } from '../run-event.js';
import { type Printer, printPage } from './print-page.js';

/** Where so many pages failed and none was printed, the others would fail as well. */
const TRIES = 3;
/** So many pages are named in one sentence. */
const NAMED = 5;

const GIVEN_UP = 'not tried, since no page before could be printed';

/** How the pages of a folder are printed. */
export interface PrintOptions extends Printer {
  /** So many at once. */
  readonly atOnce: number;
  readonly onEvent?: ((event: PrintEvent) => void) | undefined;
}

/** A page that could not be printed. */
export interface Unprinted {
  readonly page: string;
  /** The end of a sentence. */
  readonly why: string;
}

/**
 * Prints all pages of a report folder as PDFs beside them.
 *
 * @returns those that could not be printed
 * @throws the reason of the signal where the run was interrupted
 */
export async function printPages(folder: string, options: PrintOptions): Promise<Unprinted[]> {
  const pages = (await namesIn(folder)).filter((name) => name.endsWith('.html')).sort();
  const { atOnce, signal, onEvent } = options;
  onEvent?.({ event: 'printing', pages: pages.length });
  // Each page that is being printed listens to it.
  if (signal) setMaxListeners(0, signal);
  const unprinted: Unprinted[] = [];
  let [next, finished] = [0, 0];
  const printInTurn = async (): Promise<void> => {
    while (next < pages.length) {
      if (signal?.aborted) return;
      const page = pages[next++];
      const isHopeless = unprinted.length >= TRIES && unprinted.length === finished;
      const why = isHopeless ? GIVEN_UP : await printPage(folder, page, options);
      if (signal?.aborted) return;
      finished++;
      if (why !== null) unprinted.push({ page, why });
      onEvent?.({ event: 'printed', page, finished, of: pages.length, ...(why && { why }) });
    }
  };
  // All have ended before anybody cleans up behind them.
  const ends = await Promise.allSettled(Array.from({ length: Math.max(1, atOnce) }, printInTurn));
  signal?.throwIfAborted();
  for (const end of ends) if (end.status === 'rejected') throw end.reason;
  return unprinted.sort((a, b) => (a.page < b.page ? -1 : 1));
}

/** A sentence for each reason, with the pages. */
export function unprintedWarnings(unprinted: readonly Unprinted[]): string[] {
  const reasons = [...new Set(unprinted.map(({ why }) => why))];
  return reasons.map((reason) => {
    const pages = unprinted.filter(({ why }) => why === reason).map(({ page }) => page);
    const more = pages.length - NAMED;
    const named = more > 0 ? [...pages.slice(0, NAMED), counted(more, 'other page')] : pages;
    return `${listed(named)} could not be printed: ${reason}. The report is whole but for the PDF; print from a browser, or run again.`;
  });
}

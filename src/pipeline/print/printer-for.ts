import { Problem } from '../../recording/problem.js';
import { findChromium } from './find-chromium.js';
import type { Paper } from './paper.js';
import type { Printer } from './print-page.js';

const SECONDS_A_PAGE = 60;

/** What a run says of printing. */
export interface PrintWishes {
  readonly pdf?: boolean | undefined;
  readonly pages?: boolean | undefined;
  readonly paper?: Paper | undefined;
  readonly printSeconds?: number | undefined;
  readonly signal?: AbortSignal | undefined;
}

/**
 * The printer that a run needs; null where no PDFs are wanted. Asked for before anything is read.
 *
 * @throws Problem where there is nothing to print, or nothing to print with
 */
export async function printerFor({
  pdf = false,
  pages = true,
  paper,
  printSeconds = SECONDS_A_PAGE,
  signal,
}: PrintWishes): Promise<Printer | null> {
  if (!pdf) {
    if (paper === undefined) return null;
    throw new Problem(
      '--paper says what --pdf prints on, and --pdf is not given',
      'Add --pdf, or leave --paper out.',
    );
  }
  if (!pages) {
    throw new Problem('--pdf prints pages, and --no-pages leaves them out', 'Leave out one of the two.');
  }
  return { chromium: await findChromium(), paper: paper ?? 'A4', limitMs: printSeconds * 1000, signal };
}

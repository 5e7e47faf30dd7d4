import { chmod, mkdir, mkdtemp, open, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { systemWords } from '../system-words.js';
import { chromiumOptions } from './chromium-options.js';
import { onPaper, type Paper } from './paper.js';
import { runProgram } from './run-program.js';

/** What a page is printed with. */
export interface Printer {
  /** The path of Chromium. */
  readonly chromium: string;
  readonly paper: Paper;
  /** A page that takes longer is given up. */
  readonly limitMs: number;
  readonly signal?: AbortSignal | undefined;
}

/** The name of a page's PDF. */
const pdfName = (page: string): string => page.replace(/\.html$/, '.pdf');

/**
 * Prints a page of a folder as a PDF beside it, with the same permissions. The copy that is printed lies in a folder
 * inside, which goes with the report folder if the run is killed; the profile holds nothing of a patient.
 *
 * @returns null where it is printed, otherwise why not, as the end of a sentence
 */
export async function printPage(folder: string, page: string, printer: Printer): Promise<string | null> {
  const work = join(folder, `${page}.printing`);
  let profile: string | null = null;
  try {
    await mkdir(work, { mode: 0o700 });
    try {
      profile = await mkdtemp(join(tmpdir(), 'cistern-print-'));
    } catch (error) {
      return `${tmpdir()}, the folder for temporary files, cannot be used (${systemWords(codeOf(error))})`;
    }
    const [copy, pdf] = [join(work, page), join(work, pdfName(page))];
    await writeFile(copy, onPaper(await readFile(join(folder, page), 'utf8'), printer.paper), {
      mode: 0o600,
    });
    const options = chromiumOptions(pathToFileURL(copy).href, pdf, profile);
    const env = { ...process.env, TMPDIR: profile };
    const why = await runProgram(printer.chromium, options, { ...printer, env });
    if (why !== null) return why;
    if (!(await isWholePdf(pdf))) return 'the program ended well and wrote no whole PDF';
    await chmod(pdf, (await stat(join(folder, page))).mode & 0o777);
    await rename(pdf, join(folder, pdfName(page)));
    return null;
  } catch (error) {
    return systemWords(codeOf(error));
  } finally {
    // Processes that were killed may write a last file while their folder is removed.
    const thoroughly = { recursive: true, force: true, maxRetries: 10 };
    if (profile !== null) await rm(profile, thoroughly).catch(() => {});
    await rm(work, thoroughly);
  }
}

/** The code of an error of the system; any other is thrown again. */
function codeOf(error: unknown): string {
  const { code } = error as NodeJS.ErrnoException;
  if (code === undefined) throw error;
  return code;
}

/** True for a file with the first and the last words of a PDF (ISO 32000-1, 7.5.2 and 7.5.5). */
async function isWholePdf(path: string): Promise<boolean> {
  const file = await open(path).catch(() => null);
  if (file === null) return false;
  try {
    const { size } = await file.stat();
    const read = async (from: number, length: number): Promise<string> =>
      (await file.read(Buffer.alloc(length), 0, length, Math.max(0, from))).buffer.toString('latin1');
    return (await read(0, 5)) === '%PDF-' && (await read(size - 16, 16)).includes('%%EOF');
  } finally {
    await file.close();
  }
}

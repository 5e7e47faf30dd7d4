import { open } from 'node:fs/promises';
import { join } from 'node:path';
import type { ReportName } from '../report/report-name.js';

/** What a report is stands at the top of its results.json, which may be large. */
const HEAD_BYTES = 65_536;

/** Which report a folder holds; null where it holds none that says so. */
export async function reportIn(folder: string): Promise<string | null> {
  try {
    const file = await open(join(folder, 'results.json'));
    try {
      const { buffer, bytesRead } = await file.read(Buffer.alloc(HEAD_BYTES), 0, HEAD_BYTES, 0);
      const head = buffer.toString('utf8', 0, bytesRead);
      return /"pipeline":\s*\{[^{}]*?"report":\s*"(\w+)"/.exec(head)?.[1] ?? null;
    } finally {
      await file.close();
    }
  } catch {
    return null;
  }
}

/** That a report of another kind stood in the folder, as a sentence; none where it did not. */
export const replacedWarning = (folder: string, before: string | null, report: ReportName): string[] =>
  before === null || before === report
    ? []
    : [
        `${folder} held a ${before} report, and this ${report} report has replaced it. Give each a folder of its own with --out, and run the other one again.`,
      ];

import { rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { keepResult } from './kept-result.js';
import type { KeptPart, PatientPart } from './report-group.js';

/** Writes a patient's pages and figures into the new report folder, and gives what is still needed of the patient. */
export async function putPatient(folder: string, part: PatientPart, place: string): Promise<KeptPart> {
  const { report } = part;
  if (report === null) return { ...part, report };
  const result = await keepResult(folder, report.result, place);
  if (report.pages === null) return { ...part, report: { result, pages: null } };
  const { files, strip } = report.pages;
  for (const { name, html } of files) await writeFile(join(folder, name), html);
  return { ...part, report: { result, pages: { names: files.map(({ name }) => name), strip } } };
}

/** Takes pages back, since their patients are reported again. */
export async function dropPages(folder: string, parts: Iterable<KeptPart>): Promise<void> {
  for (const { report } of parts)
    for (const name of report?.pages?.names ?? []) await rm(join(folder, name), { force: true });
}

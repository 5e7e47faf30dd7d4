import { rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { KeptPart, PatientPart } from './report-group.js';

/** Writes a patient's page into the new report folder, and gives what is still needed of the patient. */
export async function putPage(folder: string, part: PatientPart): Promise<KeptPart> {
  if (!part.report?.page) return part as KeptPart;
  const { name, html, strip } = part.report.page;
  await writeFile(join(folder, name), html);
  return { ...part, report: { result: part.report.result, page: { name, strip } } };
}

/** Takes pages back, since their patients are reported again. */
export async function dropPages(folder: string, parts: Iterable<KeptPart>): Promise<void> {
  for (const { report } of parts) if (report?.page) await rm(join(folder, report.page.name), { force: true });
}

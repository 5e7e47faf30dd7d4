import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { folderWith, nightCsv } from './cistern.js';

/** A folder with `unit.yaml` and the exports of so many patients, all different, each with an hour of raised ICP. */
export function unitOf(patients: number, yaml = 'exports: exports\nreport: morning\n'): string {
  const exports = Array.from({ length: patients }, (_, i): [string, string] => {
    const start = 100 + 20 * i;
    const isRaised = (minute: number): boolean => minute >= start && minute < start + 60;
    return [
      `exports/${i + 1}.csv`,
      nightCsv((minute) => (isRaised(minute) ? 28 + (minute % 3) : 12 + ((minute * (i + 1)) % 3))),
    ];
  });
  return folderWith({ 'unit.yaml': yaml, ...Object.fromEntries(exports) });
}

/** Names of the entries that are stored for a report folder; none where there is no store. */
export function storedIn(folder: string, report = 'report'): string[] {
  const store = join(folder, `.${report}.store`);
  return readdirSync(folder).includes(`.${report}.store`) ? readdirSync(store).sort() : [];
}

import type { ZoneClock } from '../recording/zone.js';
import { handoverText } from './handover-text.js';
import { type UnitPageInput, unitPage } from './morning/unit-page.js';
import { perfusionUnitPage } from './perfusion/unit-page.js';
import type { PatientReportName } from './report-name.js';
import type { UnitResults } from './results-schema.js';
import { morningTables } from './tables/morning-tables.js';
import { perfusionTables } from './tables/perfusion-tables.js';
import type { Reported } from './tables/reported.js';
import type { TidyTable } from './tables/tidy-table.js';

/** What a report writes once all patients are done. */
export interface UnitFiles {
  /** index.html. */
  readonly page: (input: UnitPageInput) => string;
  /** Plain text beside it. */
  readonly texts: (results: UnitResults) => readonly { readonly name: string; readonly text: string }[];
  /** Its tables; of some recordings after others they are the tables of all. */
  readonly tables: (results: Reported, clock: ZoneClock) => TidyTable[];
}

export const UNIT_FILES: Readonly<Record<PatientReportName, UnitFiles>> = {
  morning: {
    page: unitPage,
    texts: (results) => [{ name: 'handover.txt', text: handoverText(results) }],
    tables: morningTables,
  },
  perfusion: { page: perfusionUnitPage, texts: () => [], tables: perfusionTables },
};

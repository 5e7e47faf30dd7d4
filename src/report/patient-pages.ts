import type { DrawPages, PatientPages } from './patient-report.js';
import type { PatientReportName } from './report-name.js';

/** Pages take a while to load, and are not needed for figures alone. */
const PAGES: Readonly<Record<PatientReportName, () => Promise<DrawPages>>> = {
  morning: async () => (await import('./morning/patient-pages.js')).morningPages,
  perfusion: async () => (await import('./perfusion/patient-pages.js')).perfusionPages,
};

/** Draws the pages of a patient as the report has them. */
export const drawPages = async (
  report: PatientReportName,
  ...of: Parameters<DrawPages>
): Promise<PatientPages> => (await PAGES[report]())(...of);

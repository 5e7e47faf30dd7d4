import { alarmAudit } from './alarm-audit.js';
import { crowdedPage, decisions } from './decided.js';
import { autumnNight, fortyEpisodes, fourteenDays, oneHour } from './lengths.js';
import { cleanNone, noArterialLine, nothingKnown, probeAndDrain } from './little-known.js';
import { thirtyPatients } from './thirty-patients.js';
import type { CaseFiles } from './unit-files.js';

/** The golden cases: a unit each, at one of the ends of what a report has to hold. */
export const CASES: Readonly<Record<string, () => CaseFiles>> = {
  'one-hour': oneHour,
  'fourteen-days': fourteenDays,
  'forty-episodes': fortyEpisodes,
  'autumn-night': autumnNight,
  'no-arterial-line': noArterialLine,
  'nothing-known': nothingKnown,
  'probe-and-drain': probeAndDrain,
  decisions,
  'clean-none': cleanNone,
  'crowded-page': crowdedPage,
  'thirty-patients': thirtyPatients,
  'alarm-audit': alarmAudit,
};

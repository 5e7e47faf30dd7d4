import type { UnitAuditInput } from '../../summarize/alarms/audit-settings.js';
import { logHoles } from '../../summarize/alarms/log-holes.js';
import type { AlarmLogAccount } from '../../summarize/alarms/unit-alarm-log.js';
import type { SummarizeSettings } from '../../summarize/summarize.js';
import type { AuditResult } from '../results-audit.js';
import { alarmsResult } from './alarms-result.js';
import { auditSentence } from './audit-sentence.js';
import { limitsInLog } from './limits-in-log.js';
import { maskAlarms } from './mask-alarms.js';
import { maskResponse } from './mask-response.js';
import { maskTime } from './mask-time.js';
import { maskWhatIf } from './mask-what-if.js';
import { type GivenLogs, missingWords } from './missing.js';
import { responseResult } from './response-result.js';
import { sidesResult } from './sides-result.js';
import { timeResult } from './time-result.js';
import { whatIfResult } from './what-if-result.js';

/** What an audit needs to know beside the audits of its patients. */
export interface AuditContext {
  /** What reading the alarm log made of its rows; null where none was given. */
  readonly account: AlarmLogAccount | null;
  readonly given: Omit<GivenLogs, 'acknowledgements'>;
  readonly rules: Pick<SummarizeSettings, 'icpEpisodes' | 'cppEpisodes'>;
  /** What was added to all times of a log. */
  readonly movedSeconds: AuditResult['movedSeconds'];
  /** Patients whose exports could not be read. */
  readonly notRead: number;
}

/** The audit of a unit as it stands in results.json, small counts masked where that is asked for. */
export function auditResult(
  input: UnitAuditInput,
  { account, given, rules, movedSeconds, notRead }: AuditContext,
): AuditResult {
  const { maskBelow, hasPseudonyms } = input.settings;
  const { whatIf, whatIfReason } = whatIfResult(input);
  const masked = <T>(part: T, mask: (part: T, below: number) => T): T =>
    maskBelow === null ? part : mask(part, maskBelow);
  const alarms = masked(alarmsResult(input, account), maskAlarms);
  const response = masked(responseResult(input), maskResponse);
  const sides = maskBelow === null ? sidesResult(input) : [];
  const told = { alarms, response, sides };
  const { icpEpisodes: icp, cppEpisodes: cpp } = rules;
  return {
    sentence: auditSentence(input.patients.length, told, given.care, maskBelow),
    patientsAs: hasPseudonyms ? 'pseudonyms' : 'numbers',
    maskBelow,
    rules: {
      icp: { thresholdMmHg: icp.threshold, minSeconds: icp.minSeconds },
      cpp: { thresholdMmHg: cpp.threshold, minSeconds: cpp.minSeconds },
    },
    missing: missingWords({ ...given, acknowledgements: input.hasAcknowledgements }),
    movedSeconds,
    notRead,
    sides,
    logHoles: logHoles(input).map(({ start, end, days }) => ({
      start: input.clock.format(start),
      end: input.clock.format(end),
      days,
    })),
    limitsInLog: maskBelow === null ? limitsInLog(input) : [],
    alarms,
    response,
    time: masked(timeResult(input), maskTime),
    whatIf: whatIf && masked(whatIf, maskWhatIf),
    ...(whatIfReason === undefined ? {} : { whatIfReason }),
  };
}

import type { Draw } from '../charts/spec.js';
import { renderPage } from '../page/page.js';
import { runningTitle } from '../page/running-title.js';
import type { AuditResult } from '../results-audit.js';
import type { UnitResults } from '../results-schema.js';
import { counted, days, span } from '../words.js';
import { drawAlarms } from './alarm-drawings.js';
import { AlarmsSection } from './alarms-section.js';
import { answerLines } from './audit-sentence.js';
import { ClockNote } from './clock-note.js';
import { HoursSection } from './hours-section.js';
import { auditKnownFirst } from './known-first.js';
import { LogAccountSection } from './log-account-section.js';
import { AuditMadeSection } from './made-section.js';
import { AlarmPatients } from './patients-section.js';
import { drawResponse } from './response-drawings.js';
import { ResponseSection } from './response-section.js';
import { AuditShortTable } from './short-table.js';
import { drawTime } from './time-drawings.js';
import { TimeSection } from './time-section.js';
import { UnnoticedSection } from './unnoticed-section.js';
import { drawWhatIf } from './what-if-maps.js';
import { WhatIfSection } from './what-if-section.js';

/** The page of an alarm audit, as a whole HTML document. */
export async function auditPage(results: UnitResults, audit: AuditResult, draw: Draw): Promise<string> {
  const { period, pipeline, noData, failed, unit } = results;
  const { alarms, response, time, whatIf, maskBelow } = audit;
  const drawings = {
    alarms: await drawAlarms(alarms, draw),
    response: await drawResponse(response, draw),
    time: await drawTime(time, draw),
    whatIf: whatIf && (await drawWhatIf(whatIf, draw)),
  };
  const ofAlarms = { alarms, drawings: drawings.alarms, maskBelow };
  return renderPage({
    title: `${pipeline.title}: ${days(period.start, period.end)}`,
    running: runningTitle(pipeline.title, period),
    subtitle: `${span(period.start, period.end)} (${period.timezone}). ${counted(unit.order.length, 'patient')} with data, ${noData.length} without, ${failed.length} not read.`,
    children: (
      <>
        <div class="answer">
          {answerLines(unit.sentence).map((line) => (
            <p key={line}>{line}</p>
          ))}
        </div>
        {auditKnownFirst(results, audit).map((note) => (
          <p key={note}>
            <strong>{note}</strong>
          </p>
        ))}
        <AuditShortTable audit={audit} />
        <AlarmsSection {...ofAlarms} />
        <HoursSection {...ofAlarms} />
        <UnnoticedSection alarms={alarms} />
        <ResponseSection response={response} drawings={drawings.response} />
        <TimeSection time={time} drawings={drawings.time} />
        {whatIf && drawings.whatIf ? (
          <WhatIfSection
            part={whatIf}
            drawings={drawings.whatIf}
            period={period}
            limitsInLog={audit.limitsInLog}
          />
        ) : (
          <section>
            <h2>What if: other limits and delays</h2>
            <p>Nothing was replayed: {audit.whatIfReason}.</p>
          </section>
        )}
        <AlarmPatients alarms={alarms} />
        <section>
          <h2>How far to trust it</h2>
          <ClockNote clock={alarms.clock} svg={drawings.alarms.lags} />
          <LogAccountSection log={alarms.log} />
        </section>
        <AuditMadeSection results={results} audit={audit} />
      </>
    ),
  });
}

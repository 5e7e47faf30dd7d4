import type { JSX } from 'preact';
import { CURVE_COLOURS } from '../charts/audit-curve.js';
import { Chart, Key } from '../page/chart.js';
import { Fold } from '../page/fold.js';
import { Table } from '../page/table.js';
import type { AuditResponse, ClockResult, CurveResult } from '../results-audit-response.js';
import { day, NONE, share } from '../words.js';
import { countWord, maskNote } from './count-words.js';
import { DRAWN_CLOCK, type ResponseDrawings } from './response-drawings.js';
import { ClockTable, hasMonths, NaiveTable } from './response-tables.js';
import { CLOCK_WORDS, channelName, clockSentence } from './response-words.js';

/** What the section on responses shows. */
export interface ResponseSectionProps {
  readonly response: AuditResponse;
  readonly drawings: ResponseDrawings;
}

/** What a curve says at every so many minutes. */
const SAID_MINUTES = [5, 10, 15, 30, 60] as const;

const pointAt = (
  { points, knownMinutes }: CurveResult,
  minutes: number,
): CurveResult['points'][number] | null =>
  minutes > knownMinutes ? null : (points.findLast((point) => point.minutes <= minutes) ?? null);

const otherwiseWords = ({ resolvedFirstShare, diedFirstShare }: CurveResult['points'][number]): string =>
  resolvedFirstShare === null || diedFirstShare === null
    ? ''
    : `, ${share(resolvedFirstShare)} resolved before any treatment, ${share(diedFirstShare)} died before`;

/** The curve in words. */
export function curveWords(curve: CurveResult, name: string): string {
  const parts = SAID_MINUTES.flatMap((minutes) => {
    const point = pointAt(curve, minutes);
    return point === null
      ? []
      : [`by ${minutes} min ${share(point.happenedShare)} treated${otherwiseWords(point)}`];
  });
  const risk = curve.atRisk.map(({ minutes, episodes }) => `${minutes} min ${countWord(episodes)}`);
  return `Sustained episodes of ${name}: ${parts.join('; ')}. Episodes still waited for: ${risk.join(', ')}.`;
}

function CurveTable({ curve }: { curve: CurveResult }): JSX.Element {
  const minutes = [...new Set([...SAID_MINUTES, ...curve.atRisk.map((one) => one.minutes)])].sort(
    (a, b) => a - b,
  );
  const part = (value: number | null | undefined): string => (value == null ? NONE : share(value));
  return (
    <Table
      columns={[
        { head: 'Minutes', number: true },
        { head: 'Treated', number: true },
        { head: 'Resolved before', number: true },
        { head: 'Died before', number: true },
        { head: 'Episodes still waited for', number: true },
        { head: 'Their patients', number: true },
      ]}
      rows={minutes.map((at) => {
        const point = pointAt(curve, at);
        const risk = curve.atRisk.find((one) => one.minutes === at);
        return {
          key: String(at),
          cells: [
            String(at),
            part(point?.happenedShare),
            part(point?.resolvedFirstShare),
            part(point?.diedFirstShare),
            risk === undefined ? NONE : countWord(risk.episodes),
            risk === undefined ? NONE : countWord(risk.patients),
          ],
        };
      })}
    />
  );
}

function Curve({ clock, svg }: { clock: ClockResult; svg: string }): JSX.Element | null {
  const { curve, channel } = clock;
  if (curve === null) return null;
  const name = channelName(channel);
  return (
    <Chart
      svg={svg}
      says={curveWords(curve, name)}
      title={
        <>
          {name}: what came first after the alarm, share of sustained episodes.{' '}
          <Key colour={CURVE_COLOURS.happened}>treated</Key>
          {curve.isCoarse ? (
            'White: all others. Drawn from point to point, since counts are masked. Below: how many were still waited for.'
          ) : (
            <>
              <Key colour={CURVE_COLOURS.resolved}>resolved before any treatment</Key>
              <Key colour={CURVE_COLOURS.died}>died before</Key>
              White: still waited for. Below: how many these were.
            </>
          )}
        </>
      }
      values={<CurveTable curve={curve} />}
      valuesTitle="The curve as a table"
    />
  );
}

function Clock({
  response,
  clock,
  drawings,
}: {
  response: AuditResponse;
  clock: ClockResult['clock'];
  drawings: ResponseDrawings | null;
}): JSX.Element {
  const own = response.clocks.filter((one) => one.clock === clock);
  const { title } = CLOCK_WORDS[clock];
  const some = own.some(({ reason }) => reason === null);
  const reasons = [...new Set(own.map(({ reason }) => reason))];
  return (
    <section>
      <h3>{title}</h3>
      {!some && <p>Cannot be told: {reasons.join('; ')}.</p>}
      {some && own.map((one) => <p key={one.channel}>{clockSentence(one)}</p>)}
      {some &&
        own.map(
          (one) =>
            one.difference !== null && (
              <p key={one.channel}>
                <strong>{channelName(one.channel)}.</strong> {one.difference.says}
              </p>
            ),
        )}
      {own.map((one) => {
        const svg = drawings?.[one.channel] ?? null;
        return svg !== null && <Curve key={one.channel} clock={one} svg={svg} />;
      })}
      {some && <ClockTable part={response} clock={clock} />}
      {own.map(
        ({ channel, notCovered }) =>
          notCovered !== 0 && (
            <p class="small" key={channel}>
              {channelName(channel)}: episodes that the log does not reach, and that are left out:{' '}
              {countWord(notCovered)}.
            </p>
          ),
      )}
      {some && hasMonths(response, clock) && (
        <Fold title="By month">
          <ClockTable part={response} clock={clock} months />
        </Fold>
      )}
      {some && (
        <Fold title="Intervals as if episodes were independent, beside those over patients">
          <NaiveTable part={response} clock={clock} />
        </Fold>
      )}
    </section>
  );
}

/** How fast sustained episodes were answered. */
export function ResponseSection({ response, drawings }: ResponseSectionProps): JSX.Element {
  const { changed, maskedBelow, resamples } = response;
  return (
    <section>
      <h2>How fast were we?</h2>
      {changed !== null && (
        <p>
          Marked change: {day(changed.at)}, {changed.what}.
        </p>
      )}
      {([DRAWN_CLOCK, 'acknowledged', 'resolved'] as const).map((clock) => (
        <Clock
          key={clock}
          response={response}
          clock={clock}
          drawings={clock === DRAWN_CLOCK ? drawings : null}
        />
      ))}
      <div class="small">
        <p>
          How to read it. The clocks of treatment and acknowledgement start at {CLOCK_WORDS.treated.from}.
          Resolved counts from {CLOCK_WORDS.resolved.from} to the start of the first 5 min back within the
          threshold. An episode without an alarm cannot be acknowledged. An episode belongs to the part of the
          time in which it starts. A treatment between the crossing and a late alarm counts as 0 min, so that
          late alarms look fast: read them in the list above. Episodes less than 5 min apart share what
          answered them. {maskNote(maskedBelow)}
        </p>
        <p>
          An episode that resolved first, and death (also one within a day of the last data), are counted as
          such and not as cut off, so that a share is one of all episodes (Aalen &amp; Johansen, Scand J Stat
          1978;5:141-50); where nothing came first, that is 1 minus the curve of Kaplan and Meier.
        </p>
        <p>
          How far to trust it. The intervals (95 %) draw whole patients {resamples} times, since the episodes
          of one patient belong together: a patient is sicker, or nearer to the desk, in all of them. The
          interval as if episodes were independent takes no account of that, and is too narrow as a rule. With
          fewer than 10 patients there is none. A difference before and after a date is no proof of what made
          it.
        </p>
      </div>
    </section>
  );
}

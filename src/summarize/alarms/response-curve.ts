import { aalenJohansen } from '../statistics/aalen-johansen.js';
import { riskTable } from '../statistics/risk-table.js';
import { causesOf } from './response-figures.js';
import { CAUSE_COUNT, type ResponseTime } from './response-times.js';

/** Curves are drawn up to here, with who is at risk under them so often, minutes. */
export const CURVE_MINUTES = 60;
export const RISK_STEP_MINUTES = 10;

/** What had come by a time. Shares are of all episodes, as cumulative incidences. */
export interface CurvePoint {
  readonly minutes: number;
  readonly happenedShare: number;
  readonly resolvedFirstShare: number;
  readonly diedFirstShare: number;
  /** Episodes, counted up to this time. */
  readonly happened: number;
  readonly resolvedFirst: number;
  readonly diedFirst: number;
  readonly cutOff: number;
}

/** Who was still waited for just before a time. */
export interface AtRisk {
  readonly minutes: number;
  readonly episodes: number;
  readonly patients: number;
}

export interface ResponseCurve {
  /** At 0 and each time at which something came, up to 60 min; shares hold until the next. */
  readonly points: readonly CurvePoint[];
  /** To where the shares are known, 60 min at most. */
  readonly knownMinutes: number;
  readonly atRisk: readonly AtRisk[];
}

/** Cumulative incidences of what came first, over an hour. */
export function responseCurve(times: readonly ResponseTime[]): ResponseCurve {
  const minutesOf = times.map(({ minutes }) => minutes);
  const causes = causesOf(times);
  const { incidences } = aalenJohansen(minutesOf, causes, CAUSE_COUNT);
  const sums = { happened: 0, resolvedFirst: 0, diedFirst: 0, cutOff: 0 };
  const points: CurvePoint[] = [
    { minutes: 0, happenedShare: 0, resolvedFirstShare: 0, diedFirstShare: 0, ...sums },
  ];
  const rows = riskTable(minutesOf, causes, CAUSE_COUNT);
  rows.forEach(({ time, events, censored }, i) => {
    if (time > CURVE_MINUTES) return;
    sums.happened += events[0];
    sums.resolvedFirst += events[1];
    sums.diedFirst += events[2];
    sums.cutOff += censored;
    const [happened, resolved, died] = incidences.map(({ steps }) => steps[i].incidence);
    const point = {
      minutes: time,
      happenedShare: happened,
      resolvedFirstShare: resolved,
      diedFirstShare: died,
      ...sums,
    };
    if (time === 0) points[0] = point;
    else points.push(point);
  });
  const last = rows.at(-1);
  const isToTheEnd = last?.censored === 0;
  return {
    points: rows.length === 0 ? [] : points,
    knownMinutes: last === undefined ? 0 : isToTheEnd ? CURVE_MINUTES : Math.min(CURVE_MINUTES, last.time),
    atRisk: Array.from({ length: CURVE_MINUTES / RISK_STEP_MINUTES + 1 }, (_, k) => {
      const minutes = k * RISK_STEP_MINUTES;
      const waiting = times.filter((one) => one.minutes >= minutes);
      return {
        minutes,
        episodes: waiting.length,
        patients: new Set(waiting.map(({ patient }) => patient)).size,
      };
    }),
  };
}

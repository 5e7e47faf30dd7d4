import type { Mark } from '../../clean/rule.js';
import type { Interval } from '../../recording/interval.js';
import type { Signal } from '../../recording/signal.js';
import type { ZoneClock } from '../../recording/zone.js';
import type { Signals } from '../../summarize/summarize.js';
import type { Targets } from '../../summarize/targets.js';
import { PERIOD_WIDTH } from './layers.js';
import { COLOURS } from './palette.js';
import { type ChartSpan, type Panel, panelSpec } from './panel.js';
import { type LinePoint, minMaxLine } from './reduce.js';
import { removedLine } from './removed-line.js';
import type { Spec } from './spec.js';
import { timeAxis } from './time-axis.js';

/** What the overview of a period shows. */
export interface OverviewInput {
  readonly period: Interval;
  readonly clock: ZoneClock;
  readonly signals: Signals;
  readonly rawIcp: Signal;
  readonly rawMap: Signal;
  readonly marks: readonly Mark[];
  readonly episodes: readonly Interval[];
  readonly suspect: readonly Interval[];
  readonly targets: Targets;
}

/** A range that holds both lines, in tens, and the wanted values; what lies beyond is cut off. */
function domainOf(
  lines: readonly (readonly LinePoint[])[],
  wanted: readonly number[],
  limits: [number, number],
): [number, number] {
  let low = Math.min(...wanted);
  let high = Math.max(...wanted);
  for (const line of lines) {
    for (const { y } of line) {
      if (y >= limits[0] && y < low) low = y;
      if (y <= limits[1] && y > high) high = y;
    }
  }
  return [Math.max(limits[0], Math.floor(low / 10) * 10), Math.min(limits[1], Math.ceil(high / 10) * 10)];
}

/** ICP, MAP and CPP over the period on one time axis. Without an arterial line there is one panel. */
export function overviewSpec(input: OverviewInput): Spec {
  const { period, clock, signals, marks, targets } = input;
  const spans = (intervals: readonly Interval[]): ChartSpan[] =>
    intervals.map(({ start, end }) => ({
      from: Math.max(0, (start - period.start) / 60_000),
      to: Math.min((period.end - period.start) / 60_000, (end - period.start) / 60_000),
    }));
  const line = (signal: Signal): LinePoint[] => minMaxLine(signal, period, PERIOD_WIDTH);
  const shared = { episodes: spans(input.episodes), suspect: spans(input.suspect) };
  const hasMap = signals.map.times.length > 0;

  const icp = line(signals.icp);
  const icpRemoved = removedLine(input.rawIcp, marks, 'icp', period, PERIOD_WIDTH);
  const panels: Panel[] = [
    {
      ...shared,
      title: 'ICP (mmHg)',
      colour: COLOURS.icp,
      height: 170,
      domain: domainOf([icp, icpRemoved], [0, 30], [-20, 100]),
      line: icp,
      removed: icpRemoved,
      thresholds: [targets.icpThresholdMmHg],
      showHours: !hasMap,
    },
  ];
  if (hasMap) {
    const map = line(signals.map);
    const mapRemoved = removedLine(input.rawMap, marks, 'map', period, PERIOD_WIDTH);
    const cpp = line(signals.cpp);
    const common = { ...shared, suspect: [] };
    panels.push(
      {
        ...common,
        title: 'MAP (mmHg)',
        colour: COLOURS.map,
        height: 90,
        domain: domainOf([map, mapRemoved], [60, 100], [0, 200]),
        line: map,
        removed: mapRemoved,
        thresholds: [],
        showHours: false,
      },
      {
        ...common,
        title: 'CPP (mmHg)',
        colour: COLOURS.cpp,
        height: 110,
        domain: domainOf([cpp], [40, 90], [0, 150]),
        line: cpp,
        removed: [],
        thresholds: [targets.cppFloorMmHg],
        showHours: true,
      },
    );
  }
  const axis = timeAxis(period, clock);
  return { vconcat: panels.map((panel) => panelSpec(panel, axis, PERIOD_WIDTH)), spacing: 8 };
}

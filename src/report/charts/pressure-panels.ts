import type { Mark } from '../../clean/rule.js';
import type { Interval } from '../../recording/interval.js';
import type { Signal } from '../../recording/signal.js';
import type { ZoneClock } from '../../recording/zone.js';
import type { Signals } from '../../summarize/summarize.js';
import type { Targets } from '../../summarize/targets.js';
import type { Bedside } from '../bedside.js';
import { domainOf } from './domain.js';
import { PERIOD_WIDTH } from './layers.js';
import { COLOURS } from './palette.js';
import type { Panel } from './panel.js';
import { type LinePoint, minMaxLine } from './reduce.js';
import { removedLine } from './removed-line.js';
import { nightSpans, visibleSpans } from './spans.js';

/** What charts of pressures over a window are drawn from; all of the recording, of which the window takes its part. */
export interface PressureInput {
  readonly clock: ZoneClock;
  readonly signals: Signals;
  readonly rawIcp: Signal;
  readonly rawMap: Signal;
  readonly marks: readonly Mark[];
  readonly episodes: readonly Interval[];
  readonly suspect: readonly Interval[];
  readonly targets: Targets;
  readonly nights: readonly Interval[];
  readonly bedside: Bedside;
}

/** Heights of panels, pixels. */
export type PanelHeights = Readonly<Record<'icp' | 'map' | 'cpp', number>>;

/** The panels of ICP, MAP and CPP over a window, to be picked from. */
export function pressurePanels(
  input: PressureInput,
  window: Interval,
  heights: PanelHeights,
): Record<'icp' | 'map' | 'cpp', () => Panel> {
  const { signals, marks, targets } = input;
  const line = (signal: Signal): LinePoint[] => minMaxLine(signal, window, PERIOD_WIDTH);
  const common = {
    episodes: visibleSpans(input.episodes, window, PERIOD_WIDTH),
    suspect: [],
    nights: nightSpans(input.nights, window),
  };
  return {
    icp: () => {
      const icp = line(signals.icp);
      const removed = removedLine(input.rawIcp, marks, 'icp', window, PERIOD_WIDTH);
      return {
        ...common,
        title: 'ICP (mmHg)',
        colour: COLOURS.icp,
        height: heights.icp,
        domain: domainOf([icp, removed], [0, 30, targets.icpThresholdMmHg + 5], [-20, 100]),
        line: icp,
        removed,
        threshold: targets.icpThresholdMmHg,
        suspect: visibleSpans(input.suspect, window, PERIOD_WIDTH),
      };
    },
    map: () => {
      const map = line(signals.map);
      const removed = removedLine(input.rawMap, marks, 'map', window, PERIOD_WIDTH);
      return {
        ...common,
        title: 'MAP (mmHg)',
        colour: COLOURS.map,
        height: heights.map,
        domain: domainOf([map, removed], [60, 100], [0, 200]),
        line: map,
        removed,
        threshold: null,
      };
    },
    cpp: () => {
      const cpp = line(signals.cpp);
      return {
        ...common,
        title: 'CPP (mmHg)',
        colour: COLOURS.cpp,
        height: heights.cpp,
        domain: domainOf([cpp], [40, 90, targets.cppFloorMmHg - 5, targets.cppFloorMmHg + 5], [0, 150]),
        line: cpp,
        removed: [],
        threshold: targets.cppFloorMmHg,
      };
    },
  };
}

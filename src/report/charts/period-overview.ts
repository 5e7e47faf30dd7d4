import type { Interval } from '../../recording/interval.js';
import { lanesPart } from './lanes.js';
import { PERIOD_WIDTH } from './layers.js';
import { panelPart } from './panel.js';
import { type PressureInput, pressurePanels } from './pressure-panels.js';
import type { Spec } from './spec.js';
import { stacked } from './stack.js';
import { timeAxis } from './time-axis.js';

/** What the overview of a period shows. */
export interface OverviewInput extends PressureInput {
  readonly period: Interval;
}

const HEIGHTS = { icp: 170, map: 90, cpp: 110 };

/**
 * ICP, MAP and CPP over the period on one time axis, and what the logs say of it in lanes below. Without an arterial
 * line there is one panel; one without data in the period stays empty, so that it is seen to be missing.
 */
export function overviewSpec(input: OverviewInput): Spec {
  const { period, clock } = input;
  const axis = timeAxis(period, clock, PERIOD_WIDTH);
  const { icp, map, cpp } = pressurePanels(input, period, HEIGHTS);
  const panels = input.signals.map.times.length > 0 ? [icp(), map(), cpp()] : [icp()];
  return stacked(
    [...panels.map((panel) => panelPart(panel, axis, PERIOD_WIDTH)), ...lanesPart(input, period, axis)],
    axis,
  );
}

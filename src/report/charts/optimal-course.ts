import type { Interval } from '../../recording/interval.js';
import type { MinuteCourse } from '../../summarize/perfusion/minute-course.js';
import { domainOf } from './domain.js';
import { PERIOD_WIDTH } from './layers.js';
import { minuteLine, whereKnown } from './minute-line.js';
import { COLOURS } from './palette.js';
import { panelPart } from './panel.js';
import { type PressureInput, pressurePanels } from './pressure-panels.js';
import type { Spec } from './spec.js';
import { stacked } from './stack.js';
import { timeAxis } from './time-axis.js';

const HEIGHT = 110;

/** CPP over a period, and over it the optimal CPP wherever a curve was accepted and CPP is known. */
export function optimalCourseSpec(input: PressureInput, optimal: MinuteCourse, period: Interval): Spec {
  const axis = timeAxis(period, input.clock, PERIOD_WIDTH);
  const cpp = pressurePanels(input, period, { icp: HEIGHT, map: HEIGHT, cpp: HEIGHT }).cpp();
  const line = minuteLine(whereKnown(optimal, input.signals.cpp), period, PERIOD_WIDTH);
  const domain = domainOf([cpp.line, line], cpp.domain, [0, 150]);
  const panel = { ...cpp, episodes: [], threshold: null, domain, over: { line, colour: COLOURS.ink } };
  return stacked([panelPart(panel, axis, PERIOD_WIDTH)], axis);
}

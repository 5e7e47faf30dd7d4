import type { Interval } from '../../recording/interval.js';
import type { Signal } from '../../recording/signal.js';
import type { MinuteCourse } from '../../summarize/perfusion/minute-course.js';
import { cppBands } from './cpp-bands.js';
import { domainOf } from './domain.js';
import { lanesPart } from './lanes.js';
import { PERIOD_WIDTH } from './layers.js';
import { levelLine, minuteLine } from './minute-line.js';
import { COLOURS } from './palette.js';
import { type Panel, panelPart } from './panel.js';
import { type PressureInput, pressurePanels } from './pressure-panels.js';
import { minMaxLine } from './reduce.js';
import { nightSpans } from './spans.js';
import type { Spec } from './spec.js';
import { stacked } from './stack.js';
import { type TargetSpan, thresholdSteps } from './threshold-steps.js';
import { timeAxis } from './time-axis.js';

/** A course of an index with its means over hours, milliseconds UTC. */
export interface IndexCourse {
  readonly course: MinuteCourse;
  readonly hours: readonly (Interval & { readonly mean: number | null })[];
}

/** What the picture of perfusion over a period shows; null or empty where there is none. */
export interface PerfusionOverviewInput extends PressureInput {
  readonly period: Interval;
  /** What CPP was held against when; empty where that is its floor throughout. */
  readonly cppTargets: readonly TargetSpan[];
  readonly prx: IndexCourse | null;
  /** Beside a PRx that cannot be computed. */
  readonly minuteIndex: IndexCourse | null;
  readonly rap: IndexCourse | null;
  readonly limit: number;
  readonly oxygen: Signal | null;
  readonly oxygenBelowMmHg: number;
  readonly temperature: Signal | null;
  readonly endTidalCo2: Signal | null;
}

const HEIGHTS = { icp: 110, map: 76, cpp: 130 };
const INDEX_HEIGHT = 78;
/** A title with its unit has to fit beside it. */
const OTHER_HEIGHT = 80;
const THICKET_HOURS = 30;

/** True for a period over which a line of minutes is a thicket, so that means of hours are drawn over it. */
export const isThicket = ({ start, end }: Interval): boolean => end - start > THICKET_HOURS * 3_600_000;

/** ICP, MAP, CPP over its bands, and what follows from them or stands beside them, on one time axis. */
export function perfusionOverviewSpec(input: PerfusionOverviewInput): Spec {
  const { period, clock, targets, limit } = input;
  const axis = timeAxis(period, clock, PERIOD_WIDTH);
  const { icp, map, cpp } = pressurePanels(input, period, HEIGHTS);
  const common = {
    removed: [],
    threshold: null,
    episodes: [],
    suspect: [],
    nights: nightSpans(input.nights, period),
  };
  const index = (title: string, { course, hours }: IndexCourse, threshold: number | null): Panel => ({
    ...common,
    title,
    colour: COLOURS.index,
    height: INDEX_HEIGHT,
    domain: [-1, 1],
    line: minuteLine(course, period, PERIOD_WIDTH),
    threshold,
    fillsAbove: threshold !== null,
    hasZero: true,
    over: isThicket(period) ? { line: levelLine(hours, period), colour: COLOURS.index } : undefined,
  });
  const other = (
    title: string,
    signal: Signal,
    colour: string,
    [wanted, limits, step]: readonly [readonly number[], readonly [number, number], number],
    threshold: number | null = null,
  ): Panel => {
    const line = minMaxLine(signal, period, PERIOD_WIDTH);
    const domain = domainOf([line], wanted, limits, step);
    return { ...common, title, colour, height: OTHER_HEIGHT, domain, line, threshold };
  };
  const ofCpp = (): Panel => {
    const plain = cpp();
    const steps = thresholdSteps(input.cppTargets, period);
    const domain = domainOf(
      [plain.line],
      [...plain.domain, ...steps.flatMap(({ y }) => [y - 5, y + 5])],
      [0, 150],
    );
    return {
      ...plain,
      domain,
      bands: cppBands(targets),
      thresholdSteps: steps.length === 0 ? undefined : steps,
    };
  };
  const panels = [
    icp(),
    ...(input.signals.map.times.length > 0 ? [map(), ofCpp()] : []),
    ...(input.prx === null ? [] : [index('PRx', input.prx, limit)]),
    ...(input.minuteIndex === null ? [] : [index('minute index', input.minuteIndex, null)]),
    ...(input.rap === null ? [] : [index('RAP', input.rap, null)]),
    ...(input.oxygen === null
      ? []
      : [
          other('PbtO2 (mmHg)', input.oxygen, COLOURS.oxygen, [[0, 40], [0, 150], 10], input.oxygenBelowMmHg),
        ]),
    ...(input.temperature === null
      ? []
      : [other('temp. (°C)', input.temperature, COLOURS.temperature, [[36, 38], [28, 43], 1])]),
    ...(input.endTidalCo2 === null
      ? []
      : [other('EtCO2 (mmHg)', input.endTidalCo2, COLOURS.endTidalCo2, [[30, 45], [0, 100], 5])]),
  ];
  return stacked(
    [...panels.map((panel) => panelPart(panel, axis, PERIOD_WIDTH)), ...lanesPart(input, period, axis)],
    axis,
  );
}

import { cleaningStripSpec } from '../charts/cleaning-strip.js';
import { curveSpec } from '../charts/curve-chart.js';
import { knownPart } from '../charts/minute-line.js';
import { optimalCourseSpec } from '../charts/optimal-course.js';
import { type IndexCourse, perfusionOverviewSpec } from '../charts/perfusion-overview.js';
import { nightSpans } from '../charts/spans.js';
import type { Draw } from '../charts/spec.js';
import { pressureInput } from '../morning/patient-drawings.js';
import { stripRows } from '../morning/strip-rows.js';
import type { DrawnFrom } from '../patient-report.js';
import type { PerfusionResult } from '../results-perfusion.js';
import type { RecordingResult } from '../results-schema.js';
import { type PerfusionCourses, shownIndex } from './courses.js';
import { hasOwnTarget } from './own-target.js';

/** The charts of a patient's page of perfusion, as SVG. */
export interface PerfusionDrawings {
  readonly overview: string;
  /** True where the charts over the period tell night from day. */
  readonly hasNights: boolean;
  /** PRx by CPP; null where no bin holds anything. */
  readonly curve: string | null;
  /** CPP and optimal CPP; null where no curve was accepted at any time. */
  readonly optimal: string | null;
  readonly cleaningStrip: string | null;
}

const atOf = (iso: string): number => Date.parse(iso);

/** An index with its means over hours; null where there is none. */
const indexOf = (
  course: PerfusionCourses['prx'],
  hours: PerfusionResult['prx']['hours'] | undefined,
): IndexCourse | null =>
  course === null
    ? null
    : {
        course,
        hours: (hours ?? []).flatMap(({ start, end, mean }) => {
          const known = knownPart(course, { start: atOf(start), end: atOf(end) });
          return known === null ? [] : [{ ...known, mean }];
        }),
      };

/** Draws everything that a patient's page of perfusion shows. */
export async function drawPerfusion(
  from: DrawnFrom,
  result: RecordingResult,
  courses: PerfusionCourses,
  draw: Draw,
): Promise<PerfusionDrawings> {
  const { recording, period, clock, nights } = from;
  const { perfusion } = result;
  const pressures = pressureInput(from);
  const shown = shownIndex(perfusion);
  const channel = (kind: 'pbto2' | 'temp' | 'etco2') => recording.channels[kind]?.signal ?? null;
  const overview = perfusionOverviewSpec({
    ...pressures,
    period,
    cppTargets: hasOwnTarget(result)
      ? result.lowCpp.targets.map(({ start, end, belowMmHg }) => ({
          start: atOf(start),
          end: atOf(end),
          belowMmHg,
        }))
      : [],
    prx: shown === 'prx' ? indexOf(courses.prx, perfusion.prx.hours) : null,
    minuteIndex: shown === 'minuteIndex' ? indexOf(courses.minuteIndex, perfusion.minuteIndex.hours) : null,
    rap: indexOf(courses.rap, undefined),
    limit: perfusion.limit,
    oxygen: channel('pbto2'),
    oxygenBelowMmHg: perfusion.oxygen?.belowMmHg ?? 0,
    temperature: channel('temp'),
    endTidalCo2: channel('etco2'),
  });
  const { curve } = perfusion;
  const hasOptimal =
    (perfusion.optimal?.minutesWithCurve ?? 0) > 0 && perfusion.optimal?.whyWithheld === null;
  const rows = stripRows(result);
  return {
    hasNights: nightSpans(nights, period).length > 0,
    overview: await draw(overview, 'overview'),
    curve:
      curve === null || curve.bins.length === 0
        ? null
        : await draw(curveSpec(curve, perfusion.limit, perfusion.optimal?.whyWithheld === null), 'curve'),
    optimal:
      hasOptimal && courses.optimalCpp !== null
        ? await draw(optimalCourseSpec(pressures, courses.optimalCpp, period), 'optimal')
        : null,
    cleaningStrip:
      rows.length === 0 ? null : await draw(cleaningStripSpec(rows, period, clock, nights), 'taken'),
  };
}

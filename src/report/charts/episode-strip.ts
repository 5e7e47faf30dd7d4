import type { Interval } from '../../recording/interval.js';
import { episodeStripWindow } from './episode-window.js';
import { lanesPart } from './lanes.js';
import { PERIOD_WIDTH } from './layers.js';
import { panelPart } from './panel.js';
import { type PressureInput, pressurePanels } from './pressure-panels.js';
import type { Spec } from './spec.js';
import { stacked } from './stack.js';
import { timeAxis } from './time-axis.js';

/** What the strip of one episode shows. */
export interface EpisodeStripInput extends PressureInput {
  readonly episode: Interval;
}

const HEIGHTS = { icp: 110, map: 0, cpp: 70 };

/** One episode with what stands around it: ICP, CPP where it is known, and what the logs say in lanes below. */
export function episodeStripSpec(input: EpisodeStripInput): Spec {
  const window = episodeStripWindow(input.episode);
  const axis = timeAxis(window, input.clock, PERIOD_WIDTH);
  const { icp, cpp } = pressurePanels(input, window, HEIGHTS);
  const perfusion = cpp();
  const panels = perfusion.line.length > 0 ? [icp(), perfusion] : [icp()];
  return stacked(
    [...panels.map((panel) => panelPart(panel, axis, PERIOD_WIDTH)), ...lanesPart(input, window, axis)],
    axis,
  );
}

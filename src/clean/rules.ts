import { briefSpike } from './brief-spike.js';
import { disconnected } from './disconnected.js';
import { draw } from './draw.js';
import { flush } from './flush.js';
import { negative } from './negative.js';
import { outsideRange } from './outside-range.js';
import type { Rule } from './rule.js';
import { step } from './step.js';
import { zeroing } from './zeroing.js';

/** All cleaning rules, in the order in which a removed second is counted: for the first rule that took it. */
export const RULES: readonly Rule[] = [
  outsideRange,
  disconnected,
  zeroing,
  briefSpike,
  flush,
  draw,
  step,
  negative,
] as Rule[];

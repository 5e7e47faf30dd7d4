import { briefSpike } from './brief-spike.js';
import { clipped } from './clipped.js';
import { clippedWave } from './clipped-wave.js';
import { coughTrain } from './cough-train.js';
import { damped } from './damped.js';
import { disconnected } from './disconnected.js';
import { draw } from './draw.js';
import { drift } from './drift.js';
import { flatline } from './flatline.js';
import { flush } from './flush.js';
import { frozenWave } from './frozen-wave.js';
import { handling } from './handling.js';
import { negative } from './negative.js';
import { openDrain } from './open-drain.js';
import { outsideRange } from './outside-range.js';
import { pulseLost } from './pulse-lost.js';
import type { Rule } from './rule.js';
import { slowTurn } from './slow-turn.js';
import { step } from './step.js';
import { transducerMoved } from './transducer-moved.js';
import { transient } from './transient.js';
import { zeroShift } from './zero-shift.js';
import { zeroing } from './zeroing.js';

/** All cleaning rules, in the order in which a removed second is counted: for the first rule that took it. */
export const RULES: readonly Rule[] = [
  outsideRange,
  disconnected,
  zeroing,
  flatline,
  frozenWave,
  transient,
  briefSpike,
  coughTrain,
  slowTurn,
  flush,
  draw,
  handling,
  openDrain,
  step,
  zeroShift,
  negative,
  damped,
  pulseLost,
  clipped,
  clippedWave,
  drift,
  transducerMoved,
] as Rule[];

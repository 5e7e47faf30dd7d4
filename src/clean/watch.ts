import { RULES_PER_SECOND, type Watch } from '../recording/waveform.js';
import type { CleanSettings } from './clean.js';
import { RULES } from './rules.js';

/**
 * The watchers of all rules that are on and look at waveforms sample by sample; the shapes that rules for waveforms look
 * for do not show where samples are too far apart.
 */
export const watchOf =
  (settings: CleanSettings): Watch =>
  (channel, tell) =>
    RULES.flatMap(({ name, watch, needsWaveform }) => {
      const parameters = settings[name];
      if (watch === undefined || parameters === undefined) return [];
      if (needsWaveform && 1000 / channel.intervalMs < RULES_PER_SECOND) return [];
      return [watch(channel, parameters, (sighting) => tell(name, sighting))];
    });

import type { Watch } from '../recording/waveform.js';
import type { CleanSettings } from './clean.js';
import { RULES } from './rules.js';

/** The watchers of all rules that are on and look at waveforms sample by sample. */
export const watchOf =
  (settings: CleanSettings): Watch =>
  (channel, tell) =>
    RULES.flatMap(({ name, watch }) => {
      const parameters = settings[name];
      if (watch === undefined || parameters === undefined) return [];
      return [watch(channel, parameters, (sighting) => tell(name, sighting))];
    });

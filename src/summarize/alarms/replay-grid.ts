/** The settings that are tried on past data: each limit with each delay, all with one reset delay. */
export interface TriedSettings {
  /** mmHg, rising. */
  readonly limitsMmHg: readonly number[];
  /** Rising. */
  readonly delaysSeconds: readonly number[];
  readonly resetSeconds: number;
}

/** What the settings would have made of one reading of ICP. A cell stands at `limit * delays + delay`. */
export interface ReplayedReading {
  /** By cell. */
  readonly alarms: Uint32Array;
  /** By cell: alarms that were on in a sustained episode. */
  readonly sustained: Uint32Array;
  /** By `cell * episodes + episode`: minutes from the crossing to the notice; NaN where the episode is missed. */
  readonly noticedMinutes: Float64Array;
  /** Likewise: dose above the unit's threshold from the crossing to the notice; NaN where it is missed. */
  readonly doseMmHgHours: Float64Array;
}

/** A replay of all settings on the ICP of one patient. */
export interface ReplayGrid extends TriedSettings {
  /** The sustained episodes of ICP that the replay was held against, milliseconds UTC. */
  readonly episodes: readonly { readonly start: number; readonly end: number }[];
  /** As exported, and without what was removed. */
  readonly raw: ReplayedReading;
  readonly cleaned: ReplayedReading;
}

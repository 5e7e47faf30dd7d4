/** Values that differ between age groups; pressures in mmHg. */
export interface Preset {
  readonly icpThresholdMmHg: number;
  readonly cppFloorMmHg: number;
  readonly cppEdgesMmHg: readonly number[];
}

export const PRESETS: Readonly<Record<'adult' | 'paediatric', Preset>> = {
  /** Source: Brain Trauma Foundation, 4th ed., Carney et al., Neurosurgery 2017;80:6-15. */
  adult: { icpThresholdMmHg: 22, cppFloorMmHg: 60, cppEdgesMmHg: [50, 60, 70] },
  /** Source: Kochanek et al., Pediatr Crit Care Med 2019;20:S1-S82. */
  paediatric: { icpThresholdMmHg: 20, cppFloorMmHg: 40, cppEdgesMmHg: [40, 50] },
};

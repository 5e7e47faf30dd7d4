import type { Figure } from '../figure.js';
import type { WindowMeasures } from './window-measures.js';

/** What must be known in a window, at a sampling no coarser than the feature needs, before it is read. */
export type Needs = 'icp' | 'cpp' | 'exportedIcp' | null;

/** A feature of burden: what a line of the data dictionary says, and how it is read. */
export interface Feature {
  /** In tables and results, the unit in it. */
  readonly key: string;
  readonly title: string;
  /** UCUM. */
  readonly unit: string;
  /** A sentence. */
  readonly definition: string;
  readonly source: string;
  /** Coarsest nominal interval of the channels at which it can be had, seconds; null where it can at any. */
  readonly coarsestSeconds: number | null;
  readonly needs: Needs;
  readonly read: (measures: WindowMeasures) => Figure;
}

/** Coarsest sampling of doses and hours, seconds: the design's limit for them. */
export const DOSE_SECONDS = 300;
export const OWN_CONVENTION = 'own convention';
export const COMMON_PRACTICE = 'common practice, no source';
export const GUIDELINE_CHILDREN = 'in children: Kochanek et al., Pediatr Crit Care Med 2019;20:S1-S82';
export const GUIDELINE = 'Brain Trauma Foundation, 4th ed., Carney et al., Neurosurgery 2017;80:6-15';

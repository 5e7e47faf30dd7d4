import type { Interval } from '../../recording/interval.js';
import type { ZoneClock } from '../../recording/zone.js';
import type { NightTimes } from '../calendar.js';
import type { PatientAudit } from './patient-audit.js';
import type { TriedSettings } from './replay-grid.js';

/** What the pipeline file says of an audit. */
export interface AuditSettings {
  /** Points of charts over time. */
  readonly per: 'week' | 'month';
  /** A date from which something was done in another way; null where none is marked. */
  readonly changed: { readonly atMs: number; readonly what: string } | null;
  /** An alarm that comes so long after the crossing, or later, is late, seconds; by channel. */
  readonly lateSeconds: { readonly icp: number; readonly cpp: number };
  /** Limits of alarms whose log gives none, mmHg. */
  readonly limitsMmHg: { readonly icp: number; readonly cpp: number };
  readonly tried: TriedSettings;
  /** How the unit's monitors are set now; null where nobody says. */
  readonly present: { readonly limitMmHg: number; readonly delaySeconds: number } | null;
  /** Counts under it are not shown; null where all are. */
  readonly maskBelow: number | null;
  /** False where patients stand under their own numbers. */
  readonly hasPseudonyms: boolean;
  /** Words of the care log that count as treatment; null where all that it tells of treatments does. */
  readonly treatments: readonly string[] | null;
}

/** What the unit's figures are made of. */
export interface UnitAuditInput {
  /** In the order of the report. */
  readonly patients: readonly PatientAudit[];
  readonly settings: AuditSettings;
  readonly clock: ZoneClock;
  /** Of the report. */
  readonly period: Interval;
  readonly night: NightTimes;
  /** What the logs reach over, days of the calendar as a whole; null where none was given, or it is empty. */
  readonly alarmsCover: Interval | null;
  readonly careCover: Interval | null;
  /** True where some alarm of the log was acknowledged. */
  readonly hasAcknowledgements: boolean;
}

/** Resamples of every interval over patients, and where they start: the same data give the same bounds. */
export const RESAMPLES = 2000;
export const SEED = 20_260;

import type { ChannelKind } from '../recording/channel.js';

/** The reports that a pipeline file can ask for. */
export const REPORT_NAMES = ['morning', 'perfusion', 'audit', 'study'] as const;

export type ReportName = (typeof REPORT_NAMES)[number];

/** Those of the unit alone. */
export type UnitReportName = Extract<ReportName, 'audit' | 'study'>;
/** Those with figures and pages of each patient. */
export type PatientReportName = Exclude<ReportName, UnitReportName>;

export const isOfUnit = (report: ReportName): report is UnitReportName =>
  report === 'audit' || report === 'study';

/** What a report is called, and what it reads. */
export interface ReportKind {
  /** On top of its pages, where the pipeline file gives no title. */
  readonly title: string;
  /** The channels that it rests on; others are left alone. */
  readonly channels: readonly ChannelKind[];
  /** What it is over where the pipeline file does not say. */
  readonly period: 'lastNight' | 'all';
  /** True where a patient has a second page. */
  readonly hasDetailPage: boolean;
  /** False in the morning, where optimal CPP would become a target. */
  readonly hasOptimalCpp: boolean;
}

const PRESSURES: readonly ChannelKind[] = ['icp', 'icpDrain', 'map', 'sbp', 'dbp', 'cpp'];

export const REPORTS: Readonly<Record<ReportName, ReportKind>> = {
  morning: {
    title: 'Morning report',
    channels: PRESSURES,
    period: 'lastNight',
    hasDetailPage: true,
    hasOptimalCpp: false,
  },
  perfusion: {
    title: 'Perfusion and autoregulation',
    channels: [...PRESSURES, 'hr', 'pbto2', 'temp', 'etco2'],
    period: 'all',
    hasDetailPage: false,
    hasOptimalCpp: true,
  },
  audit: {
    title: 'Alarm audit',
    channels: ['icp', 'icpDrain', 'map', 'sbp', 'dbp'],
    period: 'all',
    hasDetailPage: false,
    hasOptimalCpp: false,
  },
  study: {
    title: 'Outcome study',
    channels: ['icp', 'icpDrain', 'map', 'sbp', 'dbp'],
    period: 'all',
    hasDetailPage: false,
    hasOptimalCpp: true,
  },
};

import type { Cleaning } from '../clean/clean.js';
import { overruled } from '../clean/decisions.js';
import type { Ingested } from '../ingest/ingest.js';
import { rowsIn } from '../ingest/rows/set-aside.js';
import type { WrittenEntry } from '../ingest/tables/care-entries.js';
import type { ChannelKind } from '../recording/channel.js';
import { lengthMs, overlaps } from '../recording/interval.js';
import type { Recording } from '../recording/recording.js';
import type { ZoneClock } from '../recording/zone.js';
import type { Levelling } from '../summarize/levelling.js';
import type { OfCpp } from '../summarize/of-cpp.js';
import type { PerfusionSummary } from '../summarize/perfusion/summarize-perfusion.js';
import type { ReportPeriod } from '../summarize/period.js';
import { largeExcursions, largestRemovals } from '../summarize/removals.js';
import type { EpisodeFigures, RecordingSummary, WindowFigures } from '../summarize/summarize.js';
import type { Targets } from '../summarize/targets.js';
import type { Bedside } from './bedside.js';
import { bedsideResult } from './bedside-result.js';
import { careResult } from './care-result.js';
import { agreementResult, removalResult, suspectResult } from './cleaning-result.js';
import { cppResult } from './cpp-result.js';
import { decisionEffect } from './decision-effect.js';
import { ends } from './ends.js';
import { goingOnNote } from './episode-end.js';
import { evidenceWords } from './evidence-words.js';
import { levellingResult } from './levelling-result.js';
import { decisionNote } from './morning/decision-words.js';
import { probeNote } from './morning/probe-words.js';
import type { PageNames } from './patient-report.js';
import { PATIENT_WORDS } from './patient-words.js';
import { perfusionResult } from './perfusion-result.js';
import type { PatientReportName } from './report-name.js';
import type { EpisodeResult, RecordingResult, WindowResult } from './results-schema.js';
import { samplingNote } from './sampling-note.js';
import { timesOf } from './words.js';

/** Everything that one patient's part of a report is made from. */
export interface PatientInput {
  readonly ingested: Ingested;
  readonly recording: Recording;
  /** The patient's entries of the care log, by start; null where no log was given. */
  readonly care: readonly WrittenEntry[] | null;
  readonly bedside: Bedside;
  readonly cleaning: Cleaning;
  readonly summary: RecordingSummary;
  readonly perfusion: PerfusionSummary;
  readonly period: ReportPeriod;
  readonly clock: ZoneClock;
  readonly targets: Targets;
  readonly levelling: Levelling | undefined;
  readonly ofCpp: OfCpp;
  readonly report: PatientReportName;
  /** Null where no pages are written. */
  readonly pages: PageNames | null;
  /** Where cleaning is not the usual one. */
  readonly cleaningNote: string | null;
}

/** Where nothing is known of ICP no episode can be counted: none and unknown are not the same. */
const isUncounted = ({ monitoredHours, episodes }: WindowFigures): boolean =>
  monitoredHours.icp === 0 && episodes === 0;

const windowResult = (figures: WindowFigures, clock: ZoneClock): WindowResult => ({
  ...figures,
  ...ends(figures, clock),
  episodes: isUncounted(figures) ? null : figures.episodes,
});

function episodeResult(episode: EpisodeFigures, clock: ZoneClock): EpisodeResult {
  const { lowestCppMmHg, ...figures } = episode;
  return {
    channel: 'icp',
    ...figures,
    ...ends(episode, clock),
    minutes: lengthMs(episode) / 60_000,
    lowestCppMmHg,
    ...(lowestCppMmHg === null ? { lowestCppMmHgReason: 'no CPP in this time' } : {}),
  };
}

/** Decimals of a difference: no finer than the coarser of the two. */
function decimalsOf({ channels }: Recording): RecordingResult['decimals'] {
  const icp = Math.min(1, channels.icp?.decimals ?? 0);
  const map = Math.min(1, channels.map?.decimals ?? 0);
  return { icp, map, cpp: Math.min(icp, map) };
}

const secondsOf = (recording: Recording, kind: ChannelKind): number | null => {
  const ms = recording.channels[kind]?.nominalIntervalMs ?? Number.NaN;
  return Number.isNaN(ms) ? null : ms / 1000;
};

/** The last night that ended when the period began or shortly before. */
function nightBefore({ nights }: RecordingSummary, period: ReportPeriod): WindowFigures | null {
  const DAY_MS = 86_400_000;
  const before = nights.filter(
    ({ start, end }) => end <= period.start && start >= period.start - 1.5 * DAY_MS,
  );
  return before.at(-1) ?? null;
}

/** What a person decided in the period, with the rules that had marked something there. */
const decisionsIn = (
  { decided = [], undecided = [] }: Cleaning,
  period: ReportPeriod,
  clock: ZoneClock,
): RecordingResult['decisions'] =>
  decided
    .filter((decision) => overlaps(decision, period))
    .map((decision) => ({
      channel: decision.channel,
      decision: decision.decision,
      ...ends(decision, clock),
      direction: decision.direction,
      reviewer: decision.reviewer,
      rules: overruled(decision, undecided),
    }));

/** Puts one patient's figures into the form of results.json, times as local text. */
export function recordingResult(input: PatientInput): RecordingResult {
  const { ingested, recording, cleaning, summary, clock } = input;
  const before = nightBefore(summary, input.period);
  const { trust } = summary;
  const rowsSetAside = rowsIn(ingested.setAside);
  const ofCpp = cppResult(
    input.ofCpp,
    { recording, levelSteps: summary.levelSteps, period: input.period },
    clock,
  );
  const result: RecordingResult = {
    id: recording.id,
    page: input.pages?.morning ?? null,
    detailPage: input.pages?.detail ?? null,
    goingOnNote: null,
    handover: [],
    ...ends(recording.extent, clock),
    period: ends(input.period, clock),
    sentence: '',
    cannotSay: [...trust.cannotSay],
    samplingNote: samplingNote(cleaning.stoodAside),
    decisionNote: null,
    probeNote: null,
    nominalIntervalSeconds: { icp: secondsOf(recording, 'icp'), map: secondsOf(recording, 'map') },
    decimals: decimalsOf(recording),
    knownShare: trust.knownShare,
    suspectHours: trust.suspectHours,
    longestUnknown: summary.longestUnknown && ends(summary.longestUnknown, clock),
    monitoredHours: summary.period.monitoredHours,
    icp: summary.period.icp,
    icpRaw: summary.raw.icp,
    icpOtherWay: summary.otherWay?.icp ?? null,
    cpp: summary.period.cpp,
    cppRaw: summary.raw.cpp,
    cppOtherWay: summary.otherWay?.cpp ?? null,
    perfusion: perfusionResult(input.perfusion, ofCpp.clockLag, input.period, clock),
    hours: summary.hours.map((hour) => windowResult(hour, clock)),
    days: summary.days.map((day) => windowResult(day, clock)),
    nights: summary.nights.map((night) => windowResult(night, clock)),
    nightBefore: before && windowResult(before, clock),
    episodes: summary.episodes.map((episode) => episodeResult(episode, clock)),
    episodesReason: summary.episodesReason ?? (isUncounted(summary.period) ? 'no ICP in this time' : null),
    longestEpisodeMinutes: summary.period.longestEpisodeMinutes,
    undeterminedEpisodes: summary.undeterminedEpisodes,
    removed: summary.marks.map((mark) => ({
      channel: mark.channel,
      rule: mark.rule,
      ...ends(mark, clock),
      grade: mark.grade,
      direction: mark.direction ?? null,
      evidence: evidenceWords(mark.evidence, clock),
      decidedBy: mark.decidedBy ?? null,
    })),
    decisions: decisionsIn(cleaning, input.period, clock),
    suspect: trust.suspect.map((stretch) => suspectResult(stretch, clock)),
    largestRemovals: largestRemovals(summary.removals).map((removal) => removalResult(removal, clock)),
    largeExcursions: largeExcursions(summary.removals).map((removal) => removalResult(removal, clock)),
    cleaning: {
      isOff: cleaning.rulesOn.length === 0 && cleaning.decided === undefined,
      takes: [...summary.cleaning.takes],
      channels: [...summary.cleaning.channels],
      withoutDecisions: summary.cleaning.withoutDecisions,
      decisionEffect: decisionEffect(recording, cleaning, input.period),
      stoodAside: [...cleaning.stoodAside],
    },
    ...agreementResult(summary.agreement, recording, clock),
    files: ingested.files.map(({ file, reading, columns, leftAlone }) => ({
      file,
      reading,
      columns: columns.map((column) => ({ ...column, kind: column.kind as ChannelKind })),
      leftAlone: [...leftAlone],
    })),
    icpSource: recording.channels.icp?.source ?? null,
    mapDerivedFrom: recording.channels.map?.derivedFrom ?? null,
    ...careResult(input.care, recording, clock),
    bedside: bedsideResult(input.bedside, { period: input.period, episodes: summary.episodes }, clock),
    levelling: levellingResult(
      {
        levelling: input.levelling,
        steps: recording.channels.map ? summary.levelSteps : null,
        care: input.care,
        period: input.period,
      },
      clock,
    ),
    ...ofCpp,
    readingWarnings: [...ingested.warnings, ...(ofCpp.clockLag.isApart ? [ofCpp.clockLag.sentence] : [])],
    counts: { rowsRead: ingested.rowsRead, rowsUsed: ingested.rowsRead - rowsSetAside, rowsSetAside },
  };
  const words = PATIENT_WORDS[input.report];
  const told = {
    ...result,
    sentence: words.sentence(result, input.targets, input.period.word),
    goingOnNote: goingOnNote(result, input.targets.icpThresholdMmHg),
    decisionNote: decisionNote(result, input.targets),
    probeNote: probeNote(result, timesOf(result.period)),
  };
  return { ...told, handover: words.handover(told, { cleaningNote: input.cleaningNote, zone: clock.zone }) };
}

import { type Cleaning, cleanedSignal } from '../../clean/clean.js';
import { Difference } from '../../recording/difference.js';
import type { Interval } from '../../recording/interval.js';
import { cutTo } from '../../recording/pieces.js';
import { type Recording, rawSignal } from '../../recording/recording.js';
import type { Signal } from '../../recording/signal.js';
import { type Episode, type Episodes, episodesAmong } from '../../segment/episodes.js';
import { joinStretches, type Side, type Stretch, stretchesPast } from '../../segment/stretches.js';
import { type SetTarget, targetsInForce } from '../cpp-targets.js';
import { doseAboveMmHgHours } from '../dose.js';
import { levelSteps, takenOffMap } from '../levelling.js';
import { lowCpp } from '../low-cpp.js';
import { extremes } from '../mean.js';
import { whyNoRule } from '../resolvable.js';
import type { SummarizeSettings } from '../summarize.js';
import { monitoredHours } from '../time.js';
import { AlarmJudge } from './judge.js';
import type { AuditChannel, ChannelAudit } from './patient-audit.js';

/** An episode with its figures, mmHg: of ICP the highest sample, of CPP the lowest; dose past the threshold. */
export interface SustainedEpisode extends Episode {
  readonly extremeMmHg: number;
  readonly doseMmHgHours: number;
}

/** A pressure whose alarms are audited, and what is sustained in it by the unit's rule. */
export interface AuditedChannel {
  readonly raw: Signal;
  readonly cleaned: Signal;
  /** On which side of its limit an alarm lies that says nothing else. */
  readonly side: Side;
  readonly minSeconds: number;
  readonly bridgeSeconds: number;
  /** The cleaned signal against the threshold of the rule, or the targets in force. */
  readonly stretches: readonly Stretch[];
  /** Those that begin in the period. */
  readonly episodes: readonly SustainedEpisode[];
  readonly judge: AlarmJudge;
  readonly audit: ChannelAudit;
}

const intervalOf = (recording: Recording, ...kinds: ('icp' | 'map')[]): number =>
  Math.max(...kinds.map((kind) => recording.channels[kind]?.nominalIntervalMs ?? Number.NaN));

/** The end belongs to what follows, so that of two periods side by side one alone has an episode. */
const beginsIn =
  (period: Interval) =>
  ({ start }: Interval): boolean =>
    start >= period.start && start < period.end;

/** ICP and CPP of a recording, raw and cleaned, with their sustained episodes. */
export function auditedChannels(
  recording: Recording,
  cleaning: Cleaning,
  settings: SummarizeSettings,
  targets: readonly SetTarget[],
  period: Interval,
): Readonly<Record<AuditChannel, AuditedChannel>> {
  const { icpEpisodes, cppEpisodes, levelling } = settings;
  const [rawIcp, rawMap] = [rawSignal(recording, 'icp'), rawSignal(recording, 'map')];
  const perfusion = new Difference(rawMap, rawIcp, takenOffMap(levelSteps(levelling, recording.care)));
  const icp = cleanedSignal(recording, 'icp', cleaning);
  const cpp = perfusion.where(cleanedSignal(recording, 'map', cleaning), icp);

  const channelOf = (
    kinds: readonly ('icp' | 'map')[],
    of: Pick<AuditedChannel, 'raw' | 'cleaned' | 'side' | 'stretches'>,
    rule: SummarizeSettings['icpEpisodes'],
    figuresOf: (found: Episodes, intervalMs: number) => readonly SustainedEpisode[],
  ): AuditedChannel => {
    const intervalMs = intervalOf(recording, ...kinds);
    const isThere = Number.isFinite(intervalMs);
    const reason = isThere ? whyNoRule(intervalMs, rule.minSeconds) : 'no data';
    const found = reason === null ? episodesAmong(of.stretches, rule) : { episodes: [], undetermined: [] };
    return {
      ...of,
      minSeconds: rule.minSeconds,
      bridgeSeconds: rule.bridgeSeconds,
      episodes: figuresOf(found, intervalMs).filter(beginsIn(period)),
      judge: new AlarmJudge({
        raw: of.raw,
        cleaned: of.cleaned,
        taken: cleaning.marks.filter(({ channel }) => kinds.some((kind) => kind === channel)),
        intervalMs,
        side: of.side,
        sustained: found.episodes,
        times: rule,
      }),
      audit: {
        intervalSeconds: isThere ? intervalMs / 1000 : null,
        rawHours: monitoredHours(of.raw, period),
        cleanedHours: monitoredHours(of.cleaned, period),
        episodesReason: reason,
        undetermined: found.undetermined.filter(beginsIn(period)).length,
      },
    };
  };

  const { threshold } = icpEpisodes;
  const inForce = targetsInForce(targets, cppEpisodes.threshold);
  const parts = inForce.map((one) => stretchesPast(cutTo(cpp, one), one.belowMmHg, 'below'));
  return {
    icp: channelOf(
      ['icp'],
      { raw: rawIcp, cleaned: icp, side: 'above', stretches: stretchesPast(icp, threshold, 'above') },
      icpEpisodes,
      ({ episodes }) =>
        episodes.map((episode) => ({
          ...episode,
          extremeMmHg: extremes(icp, episode).highest,
          doseMmHgHours: doseAboveMmHgHours(icp, episode, threshold),
        })),
    ),
    cpp: channelOf(
      ['icp', 'map'],
      { raw: perfusion.signal, cleaned: cpp, side: 'below', stretches: joinStretches(parts) },
      cppEpisodes,
      (_, intervalMs) =>
        lowCpp(cpp, inForce, cppEpisodes, intervalMs, recording.extent).episodes.map(
          ({ lowestMmHg, meanMmHg: _mean, ...episode }) => ({ ...episode, extremeMmHg: lowestMmHg }),
        ),
    ),
  };
}

import type { AuditAlarms } from '../results-audit-alarms.js';
import type { EstimateResult } from '../results-estimate.js';
import { isSmall, maskCounts, unlessSmall } from './mask-counts.js';

type Channel = AuditAlarms['channels'][number];
type Share = Channel['sustained']['ofAll'];
type Log = NonNullable<AuditAlarms['log']>;

/** Why a figure that rests on a small count is not shown. */
export const hiddenReason = (below: number): string =>
  `it would tell a count under ${below}, and those are not shown`;

/** Hides what stands in a part of results.json where counts under a number must not be told. */
class Mask {
  constructor(private readonly below: number) {}

  private readonly nothing = (): EstimateResult => ({
    value: null,
    lower: null,
    upper: null,
    reason: hiddenReason(this.below),
  });

  /** An estimate whose reason does not tell how many patients there were, or none. */
  estimate(estimate: EstimateResult, isHidden: boolean): EstimateResult {
    if (isHidden) return this.nothing();
    const { reason, ...rest } = estimate;
    return reason === undefined ? rest : { ...rest, reason: reason.replace(/, and there are \d+$/, '') };
  }

  private share({ part, whole, byPatients, naive }: Share, hides: { part: boolean; whole: boolean }): Share {
    const isPartHidden = hides.part || (part !== null && isSmall(part, this.below));
    const isWholeHidden = hides.whole || (whole !== null && isSmall(whole, this.below));
    return {
      part: isPartHidden ? null : part,
      whole: isWholeHidden ? null : whole,
      byPatients: this.estimate(byPatients, isPartHidden || isWholeHidden),
      naive: this.estimate(naive, isPartHidden || isWholeHidden),
    };
  }

  private bothWays(
    { ofAll, ofThoseTold }: Channel['sustained'],
    hides: { part: boolean; all: boolean; told: boolean },
  ): Channel['sustained'] {
    return {
      ofAll: this.share(ofAll, { part: hides.part, whole: hides.all }),
      ofThoseTold: this.share(ofThoseTold, { part: hides.part, whole: hides.all || hides.told }),
    };
  }

  /** Counts of a list whose total is shown; all are null where the total would give them away in any case. */
  list(counts: readonly (number | null)[]): (number | null)[] {
    const known = counts.map((count) => count ?? 0);
    return maskCounts(known, this.below) ?? known.map(() => null);
  }

  private times<T extends Channel['byHour'][number] | Channel['byWeekday'][number]>(list: readonly T[]): T[] {
    const shown = this.list(list.map(({ alarms }) => alarms));
    return list.map((one, i) => ({
      ...one,
      alarms: shown[i],
      perDay: this.estimate(one.perDay, shown[i] === null),
    }));
  }

  private rules(rules: Channel['rules'], isShown: (alarmClass: string) => boolean): Channel['rules'] {
    return (['artifact', 'suspect'] as const).flatMap((alarmClass) => {
      const own = rules.filter((rule) => rule.alarmClass === alarmClass);
      if (!isShown(alarmClass)) return own.map((rule) => ({ ...rule, alarms: null }));
      const shown = this.list(own.map(({ alarms }) => alarms));
      return own.map((rule, i) => ({ ...rule, alarms: shown[i] }));
    });
  }

  channel(channel: Channel): Channel {
    const alarms = unlessSmall(channel.alarms, this.below);
    const counts = this.list(channel.classes.map((one) => one.alarms));
    const classes = channel.classes.map((one, i) => ({
      ...one,
      alarms: counts[i],
      share: counts[i] === null || alarms === null ? null : one.share,
    }));
    const isHidden = (name: string): boolean =>
      classes.some(({ alarmClass, alarms: n }) => alarmClass === name && n === null);
    const whole = { all: alarms === null, told: isHidden('cannotTell') };
    const repeats = unlessSmall(channel.repeats, this.below);
    const { inTime, late, none, notCovered } = channel.notices;
    const notices = this.list([inTime, late, none, notCovered]);
    return {
      ...channel,
      patients: unlessSmall(channel.patients, this.below),
      alarms,
      limitsAssumed: unlessSmall(channel.limitsAssumed, this.below),
      perDay: this.estimate(channel.perDay, alarms === null),
      classes,
      rules: this.rules(channel.rules, (alarmClass) => !isHidden(alarmClass)),
      sustained: this.bothWays(channel.sustained, { ...whole, part: isHidden('sustained') }),
      sustainedOrCutShort: this.bothWays(channel.sustainedOrCutShort, {
        ...whole,
        part: isHidden('sustained') || isHidden('cutShort'),
      }),
      repeats,
      repeatShare: repeats === null || alarms === null ? null : channel.repeatShare,
      byHour: this.times(channel.byHour),
      byWeekday: this.times(channel.byWeekday),
      notices: { inTime: notices[0], late: notices[1], none: notices[2], notCovered: notices[3] },
      episodes: unlessSmall(channel.episodes, this.below),
    };
  }

  /** Where rows of the log went; alarms that were judged are shown, or not, as the channels show them. */
  log(log: Log, channels: readonly Channel[]): Log {
    const counts = [
      ...log.judged.map(({ alarms }) => alarms ?? 0),
      log.merged ?? 0,
      log.withoutExport ?? 0,
      ...log.setAside.map(({ rows }) => rows ?? 0),
      ...log.unjudged.map(({ alarms }) => alarms ?? 0),
    ];
    const isJudged = (i: number): boolean => i < log.judged.length;
    const isHidden = (i: number): boolean =>
      isJudged(i) && channels.find(({ channel }) => channel === log.judged[i].channel)?.alarms === null;
    const masked = maskCounts(counts, this.below, { alsoHidden: isHidden, isShownElsewhere: isJudged });
    const isWhole = masked?.every((count) => count !== null) ?? false;
    // What was set aside is told as a sum elsewhere, so that one hidden count hides them all.
    const shown = counts.map((count, i) => (isWhole || (isJudged(i) && !isHidden(i)) ? count : null));
    const rest = shown.slice(log.judged.length + 2);
    const unaccounted = log.unaccounted ?? 0;
    return {
      ...log,
      rowsRead: isWhole ? unlessSmall(log.rowsRead, this.below) : null,
      judged: log.judged.map((one, i) => ({ ...one, alarms: shown[i] })),
      merged: shown[log.judged.length],
      withoutExport: shown[log.judged.length + 1],
      setAside: log.setAside.map((one, i) => ({ ...one, rows: rest[i] })),
      unjudged: log.unjudged.map((one, i) => ({ ...one, alarms: rest[log.setAside.length + i] })),
      unaccounted: isSmall(Math.abs(unaccounted), this.below) ? null : unaccounted,
    };
  }
}

/**
 * The part of results.json on alarms without counts from 1 to `below - 1`, without what would give them away, and
 * without lists of single patients and episodes.
 */
export function maskAlarms(part: AuditAlarms, below: number): AuditAlarms {
  const mask = new Mask(below);
  const channels = part.channels.map((channel) => mask.channel(channel));
  const { floods, clock } = part;
  const compared = unlessSmall(clock.alarms, below);
  return {
    log: part.log === null ? null : mask.log(part.log, channels),
    channels,
    floods: {
      unitCount: unlessSmall(floods.unitCount, below),
      unitAlarms: unlessSmall(floods.unitAlarms, below),
      patientCount: unlessSmall(floods.patientCount, below),
      patientAlarms: unlessSmall(floods.patientAlarms, below),
      unit: [],
      patients: [],
    },
    patients: [],
    unnoticed: [],
    clock: {
      ...clock,
      alarms: compared,
      sentence: compared === null ? clock.sentence.replace(/, and there are \d+\.$/, '.') : clock.sentence,
      minutes: [],
      patients: [],
    },
  };
}

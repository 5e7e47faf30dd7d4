import { Temporal } from 'temporal-polyfill';
import { Problem } from './problem.js';

/** A stretch of one UTC offset, from (included) to until (excluded), milliseconds UTC. */
interface OffsetStretch {
  readonly from: number;
  readonly until: number;
  readonly offsetMs: number;
}

const DAY_MS = 86_400_000;
const two = (n: number): string => String(n).padStart(2, '0');

/** True where the runtime knows the IANA zone. */
export function isZone(zone: string): boolean {
  try {
    Temporal.Instant.fromEpochMilliseconds(0).toZonedDateTimeISO(zone);
    return true;
  } catch {
    return false;
  }
}

/**
 * The clock on a unit's wall: converts between instants and local time in one IANA zone.
 * Zone data come from the runtime's ICU through Temporal; each offset stretch is looked up once.
 */
export class ZoneClock {
  private readonly stretches: OffsetStretch[] = [];
  private last: OffsetStretch;

  /** @throws Problem where the zone is none that the runtime knows */
  constructor(readonly zone: string) {
    try {
      this.last = this.lookUp(0);
    } catch {
      throw new Problem(
        `"${zone}" is no time zone that is known here`,
        'Write an IANA name such as Europe/Oslo, America/Halifax or UTC.',
      );
    }
  }

  /** Local time minus UTC at an instant, milliseconds. */
  offsetMsAt(utcMs: number): number {
    return this.stretchAt(utcMs).offsetMs;
  }

  /** The wall clock at an instant, as the milliseconds that UTC would show the same digits at. */
  toLocal(utcMs: number): number {
    return utcMs + this.offsetMsAt(utcMs);
  }

  /** All instants at which the wall clock shows this local time: one; none in a skipped hour; two in a repeated one. */
  toUtc(localMs: number): number[] {
    const offsets = new Set([this.offsetMsAt(localMs - DAY_MS), this.offsetMsAt(localMs + DAY_MS)]);
    return [...offsets]
      .map((offset) => localMs - offset)
      .filter((utc) => this.toLocal(utc) === localMs)
      .sort((a, b) => a - b);
  }

  /** The instant of a local time well inside the stretch of one offset that was looked at last; NaN elsewhere. */
  toUtcPlain(localMs: number): number {
    const { from, until, offsetMs } = this.last;
    const utc = localMs - offsetMs;
    return utc - DAY_MS >= from && utc + DAY_MS < until ? utc : Number.NaN;
  }

  /** ISO 8601 local time with offset, to the second: `2031-02-11T02:10:00+01:00`. */
  format(utcMs: number): string {
    const rounded = Math.round(utcMs / 1000) * 1000;
    const offset = Math.round(this.offsetMsAt(rounded) / 60_000);
    const sign = offset < 0 ? '-' : '+';
    const hours = Math.floor(Math.abs(offset) / 60);
    const local = new Date(this.toLocal(rounded)).toISOString().slice(0, 19);
    return `${local}${sign}${two(hours)}:${two(Math.abs(offset) % 60)}`;
  }

  private stretchAt(utcMs: number): OffsetStretch {
    const holds = (s: OffsetStretch): boolean => utcMs >= s.from && utcMs < s.until;
    if (holds(this.last)) return this.last;
    this.last = this.stretches.find(holds) ?? this.lookUp(utcMs);
    return this.last;
  }

  private lookUp(utcMs: number): OffsetStretch {
    const at = (ms: number): Temporal.ZonedDateTime =>
      Temporal.Instant.fromEpochMilliseconds(Math.floor(ms)).toZonedDateTimeISO(this.zone);
    const here = at(utcMs);
    // A transition at this very instant belongs to the stretch that it opens.
    const from = at(utcMs + 1).getTimeZoneTransition('previous');
    const until = here.getTimeZoneTransition('next');
    const stretch = {
      from: from?.epochMilliseconds ?? Number.NEGATIVE_INFINITY,
      until: until?.epochMilliseconds ?? Number.POSITIVE_INFINITY,
      offsetMs: here.offsetNanoseconds / 1e6,
    };
    this.stretches.push(stretch);
    return stretch;
  }
}

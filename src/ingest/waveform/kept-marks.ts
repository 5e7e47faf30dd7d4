import type { Interval } from '../../recording/interval.js';
import type { Sighting, WaveformMark, WaveKind } from '../../recording/waveform.js';
import { SECOND_MS, secondOf } from './second.js';

/** A mark of a channel with what else is known of it. */
interface KeptMark {
  readonly start: number;
  end: number;
  readonly direction: 'down' | 'up' | undefined;
  readonly isStill: boolean;
}

/** What was seen of one channel, in whole seconds: never more entries than seconds, however many samples are marked. */
export class KeptMarks {
  private readonly byRule = new Map<string, KeptMark[]>();

  /** Takes a sighting; those of one rule come in the order of their times. */
  add(rule: string, { from, to, direction, isStill = false }: Sighting): void {
    const [start, end] = [secondOf(from), secondOf(to)];
    const marks = this.byRule.get(rule) ?? [];
    const last = marks.at(-1);
    const follows =
      last && start <= last.end + SECOND_MS && last.direction === direction && last.isStill === isStill;
    if (follows) last.end = Math.max(last.end, end);
    else marks.push({ start, end, direction, isStill });
    this.byRule.set(rule, marks);
  }

  /** Seconds whose samples are wrong, and not only still. */
  get falseSeconds(): Interval[] {
    return [...this.byRule.values()].flat().filter(({ isStill }) => !isStill);
  }

  /** All seconds in which something was seen. */
  get seconds(): Interval[] {
    return [...this.byRule.values()].flat();
  }

  /** In the form that a recording carries. */
  of(channel: WaveKind): WaveformMark[] {
    return [...this.byRule].flatMap(([rule, marks]) =>
      marks.map(({ start, end, direction }) => ({
        channel,
        rule,
        start,
        end,
        ...(direction && { direction }),
      })),
    );
  }
}

import { median } from '../../recording/rolling-median.js';
import type { ZoneClock } from '../../recording/zone.js';
import type { GrowingFloats } from './growing.js';

/** A hole of this many usual steps, and of a minute at least, parts the rows before it from those behind. */
const STEPS_PER_HOLE = 3;
const LEAST_HOLE_MS = 60_000;
/** A clock that runs wrong is set back by minutes; a larger step back in the repeated hour is the clock change. */
const LARGEST_SET_BACK_MS = 5 * 60_000;
/** So many rows before the repeated hour are looked at. */
const ROWS_BEFORE = 50;
/** And so many behind it. */
const ROWS_BEHIND = 4;
/** Rows at least this share of the repeated hour apart may show the same digits in both passes. */
const SAME_DIGITS = 0.75;

/**
 * Turns local times of rows that follow each other into instants. Rows in the hour that the clock shows twice in
 * autumn are taken for the first pass until the row behind them is known; then they are looked at together: where the
 * times start again the second pass begins, and where they do not, the rows before and behind say which pass it was.
 */
export class Instants {
  /** The first row in a repeated hour of which nothing says in which pass it was; -1 where none. */
  doubtfulAt = -1;
  /** The row from which on the second pass was taken, where a hole parts it from the first; -1 where none. */
  secondPassAt = -1;
  /** Where the rows of the repeated hour begin; -1 while there are none to settle. */
  private from = -1;
  /** Where they end; -1 while they go on. */
  private to = -1;
  /** By how much the second pass is later, milliseconds. */
  private shift = 0;

  /** @param times the rows taken so far, of which those in the repeated hour are moved once it is over */
  constructor(
    private readonly clock: ZoneClock,
    private readonly times: GrowingFloats,
  ) {}

  /** The instant of the next row's local time; NaN in an hour that the clocks went forward over. */
  next(localMs: number): number {
    const plain = this.clock.toUtcPlain(localMs);
    if (!Number.isNaN(plain) && this.from < 0) return plain;
    const [first, second] = this.clock.toUtc(localMs);
    if (first === undefined) return Number.NaN;
    const isInside = second !== undefined;
    if (this.from >= 0 && this.to < 0 && !isInside) this.to = this.times.length;
    // Some rows behind the hour tell how rows usually follow each other.
    const isKnown = this.to >= 0 && (isInside || this.times.length >= this.to + ROWS_BEHIND);
    if (isKnown) this.settle();
    if (isInside && this.from < 0) {
      this.from = this.times.length;
      this.shift = second - first;
    }
    return first;
  }

  /** No more rows come. */
  finish(): void {
    this.settle();
  }

  /** The repeated hour is over: moves what was its second pass. */
  private settle(): void {
    const { from, times, shift } = this;
    const to = this.to < 0 ? times.length : this.to;
    if (from >= 0 && from < to) {
      const rows = times.values().slice(from, to);
      const before = from > 0 ? times.at(from - 1) : null;
      const [start, end] = this.secondPass(rows, before, to < times.length ? times.at(to) : null);
      for (let i = start; i < end; i++) times.set(from + i, rows[i] + shift);
    }
    this.from = -1;
    this.to = -1;
  }

  /** The rows of the repeated hour that were its second pass, from and to, counted from its first row. */
  private secondPass(
    rows: Float64Array,
    before: number | null,
    next: number | null,
  ): [from: number, to: number] {
    const { shift } = this;
    const steps = Array.from({ length: rows.length - 1 }, (_, i) => rows[i + 1] - rows[i]);
    const lead = before === null ? [] : [rows[0] - before];
    const trail = next === null ? [] : [next - rows[rows.length - 1]];
    const signs = [...this.stepsIn(this.from - ROWS_BEFORE, this.from), ...lead, ...steps, ...trail].map(
      Math.sign,
    );
    const isFalling = signs.reduce((sum, sign) => sum + sign, 0) < 0;
    const usual = this.usualStep(steps, lead);
    const hole = Math.max(LEAST_HOLE_MS, STEPS_PER_HOLE * usual);
    const direction = isFalling ? -1 : 1;
    const back = steps.map((step) => -direction * step);
    const jump = back.findIndex((step) => step > LARGEST_SET_BACK_MS);
    // Rows an hour apart show the same digits twice.
    const restart = jump >= 0 || usual < SAME_DIGITS * shift ? jump : back.findIndex((step) => step >= 0);
    if (restart >= 0) {
      const at = restart + 1;
      if (shift + direction * steps[restart] > hole) this.secondPassAt = this.from + at;
      return isFalling ? [0, at] : [at, rows.length];
    }
    const isNear = (earlier: number | null, later: number | null): boolean =>
      earlier !== null && later !== null && later >= earlier && later - earlier <= hole;
    const [first, last] = isFalling ? [rows[rows.length - 1], rows[0]] : [rows[0], rows[rows.length - 1]];
    const [earlier, later] = isFalling ? [next, before] : [before, next];
    const followsFirst = isNear(earlier, first);
    const leadsOn = isNear(last + shift, later);
    // How far the steps before and behind are from the usual one, as the first pass and as the second.
    const off = (pass: number): number =>
      (earlier === null ? 0 : Math.abs(first + pass - earlier - usual)) +
      (later === null ? 0 : Math.abs(later - last - pass - usual));
    const isTold = followsFirst && leadsOn ? off(0) !== off(shift) : followsFirst || leadsOn;
    const isSecond = followsFirst === leadsOn ? off(shift) < off(0) : leadsOn;
    if (!isTold) this.doubtfulAt = this.from;
    return isSecond ? [0, rows.length] : [0, 0];
  }

  /** Steps between rows of a part of the file. */
  private stepsIn(from: number, to: number): number[] {
    const times = this.times.values().subarray(Math.max(0, from), to);
    return Array.from({ length: Math.max(0, times.length - 1) }, (_, i) => times[i + 1] - times[i]);
  }

  /** The usual distance of rows near here, milliseconds. */
  private usualStep(steps: readonly number[], lead: readonly number[]): number {
    const end = this.from + steps.length + 1;
    const near = [
      ...steps,
      ...this.stepsIn(this.from - 3, this.from),
      ...this.stepsIn(end, end + ROWS_BEHIND),
    ];
    const lengths = near.map(Math.abs).filter((length) => length > 0);
    const known = lengths.length > 0 ? lengths : lead.map(Math.abs);
    return known.length === 0 ? 0 : median(known);
  }
}

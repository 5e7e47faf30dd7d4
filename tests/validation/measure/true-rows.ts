import type { Coverage, Grid } from './coverage.js';
import type { KindRow, Where } from './rows.js';

/** A stretch of unlabelled samples that a rule marked: one true kind, one rule. */
export interface Wrong {
  readonly kind: string;
  readonly rule: string;
  readonly atSecond: number;
  readonly samples: number;
}

/** What a rendering says of its unlabelled samples. */
export interface TrueSamples {
  /** For each sample a kind of true event, or null where it does not count. */
  readonly kindAt: (index: number) => string | null;
  readonly coverage: Coverage;
  readonly rules: readonly string[];
  readonly grid: Grid;
}

/** Wrongly marked stretches in time order. */
export function wrongStretches({ kindAt, coverage, rules, grid }: TrueSamples): Wrong[] {
  const stretches: { kind: string; rule: string; atSecond: number; samples: number }[] = [];
  let lastIndex = -2;
  for (let i = 0; i < grid.count; i++) {
    const place = coverage.removed[i] || coverage.suspect[i];
    const kind = place === 0 ? null : kindAt(i);
    if (kind === null) continue;
    const rule = rules[place - 1];
    const last = stretches.at(-1);
    if (last && lastIndex === i - 1 && last.kind === kind && last.rule === rule) last.samples++;
    else stretches.push({ kind, rule, atSecond: i * grid.everySeconds, samples: 1 });
    lastIndex = i;
  }
  return stretches;
}

/** A row a kind of true samples, with how many of them were marked and which stretch is the longest. */
export function trueRows(where: Where, what: 'high' | 'quiet', samples: TrueSamples): KindRow[] {
  const { kindAt, coverage, grid } = samples;
  const counts = new Map<string, { all: number; removed: number; suspect: number }>();
  for (let i = 0; i < grid.count; i++) {
    const kind = kindAt(i);
    if (kind === null) continue;
    const count = counts.get(kind) ?? { all: 0, removed: 0, suspect: 0 };
    count.all++;
    if (coverage.removed[i] > 0) count.removed++;
    else if (coverage.suspect[i] > 0) count.suspect++;
    counts.set(kind, count);
  }
  const wrong = wrongStretches(samples);
  return [...counts].map(([kind, { all, removed, suspect }]): KindRow => {
    const worst = wrong
      .filter((one) => one.kind === kind)
      .reduce<Wrong | null>((a, b) => (a && a.samples >= b.samples ? a : b), null);
    return {
      ...where,
      what,
      kind,
      grade: '',
      events: 0,
      eventsHolding: 0,
      eventsRemoved: 0,
      eventsSuspect: 0,
      eventsEither: 0,
      seconds: all * where.samplingSeconds,
      secondsRemoved: removed * where.samplingSeconds,
      secondsSuspect: suspect * where.samplingSeconds,
      worstAtSecond: worst?.atSecond ?? null,
      worstSeconds: worst ? worst.samples * where.samplingSeconds : null,
      worstRule: worst?.rule ?? '',
    };
  });
}

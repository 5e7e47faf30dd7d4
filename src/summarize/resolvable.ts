/** Coarsest nominal interval at which dose and hours can be shown, seconds. */
const DOSE_COARSEST_SECONDS = 300;
/** A rule of duration D needs samples every D/3. */
const SAMPLES_PER_RULE = 3;

const tooCoarse = (intervalMs: number, coarsestSeconds: number): string | null =>
  intervalMs / 1000 <= coarsestSeconds
    ? null
    : `not resolvable at this sampling: every ${Number((intervalMs / 1000).toFixed(1))} s, needs ${Number(coarsestSeconds.toFixed(1))} s or finer`;

/** Why dose, hours, means and percentiles cannot be shown; null where they can. */
export const whyNoDose = (intervalMs: number): string | null => tooCoarse(intervalMs, DOSE_COARSEST_SECONDS);

/** Why a rule of this duration cannot be applied; null where it can. */
export const whyNoRule = (intervalMs: number, ruleSeconds: number): string | null =>
  tooCoarse(intervalMs, ruleSeconds / SAMPLES_PER_RULE);

/** Why means over windows of this length cannot be taken: they need a sample for each. Null where they can. */
export const whyNoWindow = (intervalMs: number, windowMs: number): string | null =>
  tooCoarse(intervalMs, windowMs / 1000);

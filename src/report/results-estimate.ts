import { z } from 'zod';
import type { Estimate } from '../summarize/statistics/estimate.js';
import { figure } from './results-figures.js';

/** A figure with the bounds of its interval; each may be null, and then `reason` says why. */
export const estimate = z.strictObject({
  value: figure,
  lower: figure,
  upper: figure,
  reason: z.string().optional().describe('Why the value, or its interval alone, is null'),
});

export type EstimateResult = z.infer<typeof estimate>;

/** An estimate as it goes out: where anything of it is missing, with the first reason. */
export function estimateResult({ value, lower, upper }: Estimate): EstimateResult {
  const parts = [value, lower, upper];
  const missing = parts.find((part) => typeof part !== 'number');
  const [v, l, u] = parts.map((part) => (typeof part === 'number' ? part : null));
  return {
    value: v,
    lower: l,
    upper: u,
    ...(typeof missing === 'object' ? { reason: missing.reason } : {}),
  };
}

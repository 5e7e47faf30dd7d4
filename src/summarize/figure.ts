/** A figure, or why there is none: a report shows the reason, never a made-up number. */
export type Figure = number | { readonly reason: string };

/** Figures as they go out: a null has a sibling `<key>Reason`. */
export type WithReasons<Key extends string> = Readonly<
  Record<Key, number | null> & Partial<Record<`${Key}Reason`, string>>
>;

/** Splits each figure that is missing into a null and its reason. */
export function withReasons<Key extends string>(figures: Readonly<Record<Key, Figure>>): WithReasons<Key> {
  const out: Record<string, number | string | null> = {};
  for (const [key, figure] of Object.entries<Figure>(figures)) {
    out[key] = typeof figure === 'number' ? figure : null;
    if (typeof figure !== 'number') out[`${key}Reason`] = figure.reason;
  }
  return out as WithReasons<Key>;
}

/** The figure, unless a reason stands against it; the work is not done then. */
export const unless = (reason: string | null, compute: () => Figure): Figure =>
  reason === null ? compute() : { reason };

/** How often each text comes, the most frequent first, and of the same number the one that came first. */
export function tally(texts: readonly string[]): { readonly text: string; readonly count: number }[] {
  const counts = new Map<string, number>();
  for (const text of texts) counts.set(text, (counts.get(text) ?? 0) + 1);
  return [...counts].map(([text, count]) => ({ text, count })).sort((a, b) => b.count - a.count);
}

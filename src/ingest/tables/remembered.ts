/** The same function, that looks at each text once: a log says few things, each many times. */
export function remembered<T>(work: (text: string) => T): (text: string) => T {
  const known = new Map<string, T>();
  return (text) => {
    const before = known.get(text);
    if (before !== undefined) return before;
    const result = work(text);
    known.set(text, result);
    return result;
  };
}

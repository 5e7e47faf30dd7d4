/** Episodes of a signal over a threshold, from where it comes into view, crosses and leaves view. */
export const THRESHOLD = 22;
const SHORTEST = 300_000;
const DIP = 30_000;
const BRIDGE = 120_000;
const LEAST_KNOWN = 0.5;
const LEAST_PAST = 0.8;
const SLACK = 1e-3;
const TOLERANCE = 1;
const [PAST, WITHIN, UNKNOWN] = [1, 0, -1];

/** Maximal stretches past the threshold, within it and unknown, in time order. */
function stretchesOf(crossings) {
  const found = [];
  for (let k = 0; k + 1 < crossings.length; k++) {
    const { instant: start, state } = crossings[k];
    const { instant: end } = crossings[k + 1];
    const last = found.at(-1);
    if (start >= end) continue;
    if (last?.state === state && last.end === start) last.end = end;
    else found.push({ state, start, end });
  }
  return found;
}

/** Stretches past the threshold that belong together, each with what lies before it. */
function chainsOf(stretches) {
  const chains = [];
  let [within, unknown] = [0, Number.POSITIVE_INFINITY];
  for (const { state, start, end } of stretches) {
    if (state === PAST) {
      const isShort = within + unknown <= DIP + TOLERANCE || (within === 0 && unknown <= BRIDGE + TOLERANCE);
      if (isShort && chains.length > 0) chains.at(-1).push({ start, end, within, unknown });
      else chains.push([{ start, end, within: 0, unknown: 0 }]);
      within = 0;
      unknown = 0;
    } else if (state === WITHIN) within += end - start;
    else unknown += end - start;
  }
  return chains;
}

/** The longest part that is known and past the threshold enough, as first and last index; null without one. */
function longestSpan(chain) {
  let [a, b] = [0, 0];
  const sums = chain.map(({ start, end, within, unknown }) => {
    a -= LEAST_PAST * within;
    b += within - LEAST_KNOWN * (within + unknown);
    const opening = [a, b];
    a += (1 - LEAST_PAST) * (end - start);
    b += (1 - LEAST_KNOWN) * (end - start);
    return { opening, closing: [a + SLACK, b + SLACK] };
  });
  let best = null;
  let length = -1;
  for (let i = 0; i < chain.length && chain.at(-1).end - chain[i].start > length; i++) {
    const [openA, openB] = sums[i].opening;
    for (let j = chain.length - 1; j >= i && chain[j].end - chain[i].start > length; j--) {
      if (sums[j].closing[0] < openA || sums[j].closing[1] < openB) continue;
      best = [i, j];
      length = chain[j].end - chain[i].start;
    }
  }
  return best;
}

function solidParts(chain) {
  if (chain.length === 0 || chain.at(-1).end - chain[0].start < SHORTEST - TOLERANCE) return [];
  const span = longestSpan(chain);
  if (!span) return [];
  const part = { start: chain[span[0]].start, end: chain[span[1]].end };
  if (part.end - part.start < SHORTEST - TOLERANCE) return [];
  return [...solidParts(chain.slice(0, span[0])), part, ...solidParts(chain.slice(span[1] + 1))];
}

/** Start, end, whether it was past the threshold already when it came into view, and still when it left. */
export function findEpisodes(crossings) {
  const stretches = stretchesOf(crossings);
  if (stretches.length === 0) return [];
  const long = stretches.filter(
    ({ state, start, end }) => state === UNKNOWN && end - start > BRIDGE + TOLERANCE,
  );
  const starts = new Set([stretches[0].start, ...long.map(({ end }) => end)]);
  const ends = new Set([stretches.at(-1).end, ...long.map(({ start }) => start)]);
  return chainsOf(stretches)
    .flatMap(solidParts)
    .map(({ start, end }) => ({ start, end, openStart: starts.has(start), openEnd: ends.has(end) }));
}

const STEPS = [1, 2, 5];

/** Places for labels on a logarithmic axis: 1, 2 and 5 of each power of ten inside of it; only the powers over four of them. */
export function logTicks([low, high]: readonly [number, number]): number[] {
  const from = Math.floor(Math.log10(low));
  const to = Math.ceil(Math.log10(high));
  const steps = to - from > 4 ? [1] : STEPS;
  return Array.from({ length: to - from + 1 }, (_, k) =>
    // As text, since powers of ten under 1 are no whole numbers of bits.
    steps.map((step) => Number(`${step}e${from + k}`)),
  )
    .flat()
    .filter((value) => value >= low && value <= high);
}

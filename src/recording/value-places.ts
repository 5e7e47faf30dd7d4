import { distinctSorted } from './distinct.js';
import { firstAtOrAfter } from './search.js';

/** The different values of a series, and where each sample stands among them. */
export interface ValuePlaces {
  /** Sorted; NaN left out. */
  readonly distinct: Float64Array;
  /** Place of each sample in `distinct`; 0 where it is NaN. */
  readonly places: Uint16Array | Uint32Array;
}

/** Finest step of a monitor that is looked for, and the most steps between lowest and highest value. */
const FINEST_SCALE = 1000;
const MOST_STEPS = 65_536;

/** The number by which all samples become whole, with the lowest and the highest of these; null where there is none. */
function gridOf(values: Float64Array): { scale: number; lowest: number; highest: number } | null {
  let scale = 1;
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i++) {
    const value = values[i];
    // A decimal is read as its whole number divided by a power of ten, so that this finds it again to the last bit.
    while (Math.round(value * scale) / scale !== value) {
      if (Number.isNaN(value)) break;
      if (scale >= FINEST_SCALE) return null;
      scale *= 10;
    }
    if (value < lowest) lowest = value;
    if (value > highest) highest = value;
  }
  if (!(lowest <= highest) || (highest - lowest) * scale >= MOST_STEPS) return null;
  return { scale, lowest: Math.round(lowest * scale), highest: Math.round(highest * scale) };
}

/** Places of values that stand on steps of a power of ten, as monitors write them: counted, not sorted. */
function placesOnGrid(
  values: Float64Array,
  { scale, lowest, highest }: { scale: number; lowest: number; highest: number },
): ValuePlaces {
  const places = new Uint16Array(values.length);
  const placeOfStep = new Uint16Array(highest - lowest + 1);
  const isUsed = new Uint8Array(highest - lowest + 1);
  for (let i = 0; i < values.length; i++) {
    const step = Math.round(values[i] * scale) - lowest;
    // NaN becomes step 0 here, and place 0 below.
    places[i] = step;
    if (step >= 0) isUsed[step] = 1;
  }
  const distinct: number[] = [];
  for (let step = 0; step < isUsed.length; step++) {
    if (!isUsed[step]) continue;
    placeOfStep[step] = distinct.length;
    distinct.push((step + lowest) / scale);
  }
  for (let i = 0; i < places.length; i++) places[i] = placeOfStep[places[i]];
  return { distinct: Float64Array.from(distinct), places };
}

/** The different values of a series and the place of each sample among them. */
export function placesIn(values: Float64Array): ValuePlaces {
  const grid = gridOf(values);
  if (grid) return placesOnGrid(values, grid);
  const distinct = distinctSorted(values);
  const places = new Uint32Array(values.length);
  for (let i = 0; i < values.length; i++) places[i] = firstAtOrAfter(distinct, values[i]);
  return { distinct, places };
}

const remembered = new WeakMap<Float64Array, ValuePlaces>();

/** The same, remembered for as long as the series is: a channel is asked for its places many times. */
export function placesOf(values: Float64Array): ValuePlaces {
  const known = remembered.get(values);
  if (known) return known;
  const places = placesIn(values);
  remembered.set(values, places);
  return places;
}

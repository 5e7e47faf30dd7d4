import { COLOURS } from './palette.js';

const channels = (colour: string): number[] =>
  [1, 3, 5].map((from) => Number.parseInt(colour.slice(from, from + 2), 16));

/** So much of a colour in the paper: 0 is the paper, 1 the colour itself. */
export function mixed(share: number, colour: string): string {
  const [paper, full] = [channels(COLOURS.paper), channels(colour)];
  const mix = paper.map((x, i) => Math.round(x + share * (full[i] - x)));
  return `#${mix.map((x) => x.toString(16).padStart(2, '0')).join('')}`;
}

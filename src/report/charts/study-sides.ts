/**
 * The colours of outcome groups: of the Okabe-Ito set, apart from the channels that charts of a study show, and one dark
 * and one light, so that they can be told on grey paper.
 */
export const SIDE_COLOURS = { favourable: '#56b4e9', unfavourable: '#1a1a1a' } as const;

export type Side = keyof typeof SIDE_COLOURS;
export const SIDES: readonly Side[] = ['favourable', 'unfavourable'];

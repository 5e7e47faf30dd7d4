import type { Artifact } from '../../../fixtures/labelled/types.js';

/** True where ICP was held at the highest value that the channel can show: the truth is at least that. */
export const isAtCeiling = ({ kind, variant }: Artifact): boolean =>
  kind === 'clipped' && variant === 'ceiling';

/** What no transducer of ICP means lies beyond these, mmHg. Common practice, no source. */
export const LOWEST_ICP_MMHG = -20;
export const HIGHEST_ICP_MMHG = 150;

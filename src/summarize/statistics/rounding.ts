/** A share is 1 or lower by the weight of one of whom it is the share, so what is nearer to 1 differs by rounding. */
export const ALL_BUT_ROUNDING = 1 - 1e-12;

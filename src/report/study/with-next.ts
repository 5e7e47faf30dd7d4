/** Style of a paragraph that stands on the same sheet of paper as what follows it. */
export const WITH_NEXT = { breakInside: 'avoid', breakAfter: 'avoid' } as const;

/** What a rule says of its parameters where a shortest time is not under the longest. */
export const MIN_UNDER_MAX = {
  error: 'expected minSeconds to be less than maxSeconds; the rule would never find anything',
  path: ['minSeconds'],
};

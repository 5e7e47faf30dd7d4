/** How the figures of a study are made, for each table that has them. */
export const AREA = {
  definition:
    'How often, of two patients of whom one has an unfavourable outcome, that one has more of the feature; same values count one half. Interval of 95 %.',
  source: 'DeLong, DeLong & Clarke-Pearson, Biometrics 1988;44:837-45',
};
export const RANK_SUM = {
  definition: 'Two-sided rank sum test of the feature between the groups.',
  source: 'Mann & Whitney, Ann Math Stat 1947;18:50-60',
};
export const HOLM = {
  definition: 'Adjusted over the features that were asked about, for one kind of test.',
  source: 'Holm, Scand J Stat 1979;6:65-70',
};

/** What odds ratios are, for each table that has them. */
export const ODDS = {
  definition:
    'Odds ratio of an unfavourable outcome per step of the feature: logistic regression over the cut, or proportional odds over the whole scale. Where predictors part the outcomes, by penalised likelihood.',
  source:
    'McCullagh & Nelder, Generalized Linear Models, 2nd ed. 1989; McCullagh, J R Stat Soc B 1980;42:109-42; Firth, Biometrika 1993;80:27-38',
};
/** Their intervals by the likelihood. */
export const PROFILE = {
  definition:
    'Interval of 95 % and test by the likelihood: the one to read where it and the one of Wald differ.',
  source: 'Venzon & Moolgavkar, Appl Stat 1988;37:87-94',
};

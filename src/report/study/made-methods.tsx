import type { JSX } from 'preact';
import type { StudyResult } from '../results-study.js';
import { counted } from '../words.js';

/** When the time of a patient begins and ends, and who counts. */
export function WindowsMade({ asked, outcome }: Pick<StudyResult, 'asked' | 'outcome'>): JSX.Element {
  const { months, withinMonths, cutSource, scaleIsOfTable } = outcome;
  return (
    <>
      <p>
        Windows: burden is asked about in the first {asked.primaryHours} h of monitoring, counted from the
        beginning that the table gives, or else from the first ICP. Every window stops at the earliest of
        withdrawal of treatment, brain death, death, the end of monitoring that the table gives and the last
        ICP. The whole stay runs from the beginning to that end; days since injury are of 24 h from the
        instant of the injury. Own convention. A patient counts with {asked.leastHours} or more monitored
        hours of ICP in the first {asked.primaryHours} h and a known outcome.
      </p>
      <p>
        Outcome: {outcome.scale === 'mortality' ? 'death' : outcome.scale.toUpperCase()}
        {scaleIsOfTable ? ', the scale of most outcomes of the table' : ', as the pipeline file says'};{' '}
        {outcome.words.unfavourable}, {outcome.words.favourable} ({cutSource}).{' '}
        {months === null
          ? 'An outcome counts whenever it was assessed.'
          : `An outcome counts where it was assessed ${months} months after the injury, ${withinMonths} more or less, or where nothing says when.`}{' '}
        Levels: Jennett &amp; Bond, Lancet 1975;1:480-4; Wilson, Pettigrew &amp; Teasdale, J Neurotrauma
        1998;15:573-85.
      </p>
    </>
  );
}

/** How groups are compared and odds ratios are come by. */
export function ComparisonMade(): JSX.Element {
  return (
    <>
      <p>
        Comparison: medians with quartiles (type 7 of Hyndman &amp; Fan, Am Stat 1996;50:361-5); rank sum test
        of Wilcoxon, Mann and Whitney (Ann Math Stat 1947;18:50-60), exact where both groups are under 50 and
        no two values are the same, else by the normal approximation with corrections for ties and for
        continuity; area under the ROC curve with the variance of DeLong, DeLong &amp; Clarke-Pearson
        (Biometrics 1988;44:837-45), its interval cut to 0 and 1. The area always asks whether higher values
        go with the unfavourable outcome; its direction is not chosen by the data. All tests are two-sided,
        all intervals of 95 %.
      </p>
      <p>
        Odds ratios: logistic regression by maximum likelihood, a model for each feature, which enters as a
        straight line; intervals by the profile of the likelihood (Venzon &amp; Moolgavkar, Appl Stat
        1988;37:87-94), p by the likelihood ratio (Wilks, Ann Math Stat 1938;9:60-2), and by the standard
        error beside it. Where the variables of a model part the outcomes, Firth's penalised likelihood
        (Biometrika 1993;80:27-38; Heinze &amp; Schemper, Stat Med 2002;21:2409-19), with its own profile. A
        model with under 10 patients of the smaller group for each variable is said to have few events
        (Peduzzi et al., J Clin Epidemiol 1996;49:1373-9). Adjusted models are of complete patients: nothing
        that is missing is filled in. Whole scale: proportional odds (McCullagh, J R Stat Soc B
        1980;42:109-42), taken for granted; a logistic regression at each cut with 10 or more patients on
        either side shows how far they hold, and nothing is tested.
      </p>
      <p>
        Several questions: each kind of test is adjusted by Holm (Scand J Stat 1979;6:65-70) over the features
        that have one. That there are several kinds of tests and several looks is not adjusted for. Under 10
        patients with a value and an outcome nothing is compared; own convention. No best cut of a feature was
        searched for: the one that parts best always looks better than it is (Altman et al., J Natl Cancer
        Inst 1994;86:829-35).
      </p>
    </>
  );
}

/** What the maps and the curves rest on. */
export function ShapesMade({ maps }: Pick<StudyResult, 'maps'>): JSX.Element {
  const map = maps[0];
  return (
    <>
      <p>
        Dose response: shares by quantiles of burden with Wilson's interval (J Am Stat Assoc 1927;22:209-12);
        patients with the same value are never parted. The curve is logistic regression on a restricted cubic
        spline of 4 knots, of 3 where the smaller group is under 30 or knots stand too near to each other
        (Harrell, Regression Modeling Strategies, 2nd ed. 2015, section 2.4); its interval holds at each value
        by itself. Too near is under 5 % of the values over which it is drawn (own convention): where 3 knots
        stand so too, as where most patients have hardly any burden, there is no curve.
      </p>
      <p>
        Intensity and duration: in each cell Spearman's correlation, over patients, of the number of episodes
        past an intensity that last at least a duration with the outcome, higher being better (Guiza et al.,
        Intensive Care Med 2015;41:1067-76)
        {map
          ? `; blank under ${counted(map.leastWithEpisode, 'patient')} with such an episode. ${map.resamples} draws of whole patients with replacement, always the same ones; a cell is called stable where ${Math.round(map.stableShare * 100)} % of them have its sign (own convention), which is no test`
          : ''}
        .
      </p>
    </>
  );
}

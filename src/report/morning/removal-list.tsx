import type { JSX } from 'preact';
import type { Targets } from '../../summarize/targets.js';
import { InlineChart } from '../page/chart.js';
import type { RecordingResult, RemovalResult } from '../results-schema.js';
import { shortRuleTitle } from '../rule-title.js';
import { clockSeconds, counted, dayAndSeconds, listed, pressure, seconds, signed } from '../words.js';

interface RemovalProps {
  readonly result: RecordingResult;
  readonly targets: Targets;
  readonly isLong: boolean;
  /** Drawings by the start of the removal. */
  readonly pictures: ReadonlyMap<string, string>;
}

/** Removed excursions of 40 mmHg or more that are not among the largest removals. */
export const furtherExcursions = ({ largeExcursions, largestRemovals }: RecordingResult): RemovalResult[] =>
  largeExcursions.filter(({ start }) => !largestRemovals.some((one) => one.start === start));

/** `to 61.3 mmHg (+48.6)`: the sample furthest from the level before, up or down. */
function reach({ highestMmHg, lowestMmHg, riseMmHg, baselineMmHg }: RemovalResult, decimals: number): string {
  const fall = lowestMmHg - baselineMmHg;
  const [value, change] = riseMmHg >= -fall ? [highestMmHg, riseMmHg] : [lowestMmHg, fall];
  return `to ${pressure(value, decimals)} mmHg (${signed(change, decimals)})`;
}

const lengthText = ({ start, end }: RemovalResult): string => {
  const ms = Date.parse(end) - Date.parse(start);
  return ms === 0 ? '1 sample' : seconds(ms);
};

const ruleNames = ({ rules }: RemovalResult): string => listed(rules.map(shortRuleTitle));

function speaksFor({ evidence, logged, decidedBy }: RemovalResult): string {
  const rests = logged === '' ? [] : [`rests on ${logged}`];
  const decided = decidedBy.length > 0 ? [`decided by ${listed(decidedBy)}`] : [];
  const words = [...decided, ...(evidence === '' ? [] : [evidence])];
  return [...rests, ...(words.length === 0 ? ['nothing else speaks for it'] : words)].join('; ');
}

/** The ten largest removals, each with a picture, and the further ones that rose by 40 mmHg or more. */
export function RemovalList(props: RemovalProps): JSX.Element | null {
  const { result, targets, isLong, pictures } = props;
  const { largestRemovals, decimals } = result;
  if (largestRemovals.length === 0) return null;
  const at = isLong ? dayAndSeconds : clockSeconds;
  const title = largestRemovals.length < 10 ? 'All removals of ICP' : 'The ten largest removals of ICP';
  return (
    <>
      <h3>{title}</h3>
      <p class="small">
        The largest first: by the area between ICP as exported and its level before, the median of the 2 min
        before. In brackets, the change from that level. Grey on a band: removed; dashed:{' '}
        {targets.icpThresholdMmHg} mmHg; 2 min or more on both sides.
      </p>
      <ol class="removals">
        {largestRemovals.map((removal) => (
          <li key={removal.start}>
            <InlineChart
              kind="picture"
              svg={pictures.get(removal.start) ?? ''}
              says={`ICP around ${at(removal.start)}, ${reach(removal, decimals.icp)}`}
            />
            <div>
              <strong>{at(removal.start)}</strong>, {lengthText(removal)}, {reach(removal, decimals.icp)}
              <br />
              {ruleNames(removal)}
              <br />
              {removal.areaMmHgMinutes.toFixed(1)} mmHg·min; {speaksFor(removal)}
            </div>
          </li>
        ))}
      </ol>
      <FurtherExcursions {...props} />
    </>
  );
}

/** With a picture each where there are few, else as a list by rule. */
function FurtherExcursions({ result, pictures, isLong }: RemovalProps): JSX.Element | null {
  const further = furtherExcursions(result);
  if (further.length === 0) return null;
  const at = isLong ? dayAndSeconds : clockSeconds;
  const text = (one: RemovalResult): string =>
    `${at(one.start)}, ${lengthText(one)}, ${reach(one, result.decimals.icp)}`;
  const title = `${counted(further.length, 'further removed excursion')} of ICP that rose by 40 mmHg or more`;
  if (further.every(({ start }) => pictures.has(start))) {
    return (
      <div class="small">
        <p>{title}:</p>
        <ul class="pictures">
          {further.map((one) => (
            <li key={one.start}>
              <InlineChart kind="picture" svg={pictures.get(one.start) ?? ''} says={text(one)} />
              {text(one)}
              <br />
              {ruleNames(one)}
            </li>
          ))}
        </ul>
      </div>
    );
  }
  const byRule = new Map<string, string[]>();
  for (const one of further) {
    const names = ruleNames(one);
    byRule.set(names, [...(byRule.get(names) ?? []), text(one)]);
  }
  return (
    <p class="small">
      {title}. {[...byRule].map(([rule, ones]) => `By ${rule}: ${ones.join('; ')}.`).join(' ')}
    </p>
  );
}

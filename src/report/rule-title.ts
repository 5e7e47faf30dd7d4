import { REVIEWED } from '../clean/decisions.js';
import { RULES } from '../clean/rules.js';

/** A cleaning rule as a page names it. */
export const ruleTitle = (name: string): string =>
  name === REVIEWED ? "a person's decision" : (RULES.find((rule) => rule.name === name)?.title ?? name);

/** The same without what stands in brackets behind it. */
export const shortRuleTitle = (name: string): string => ruleTitle(name).replace(/ \(.*\)$/, '');

import { RULES } from '../clean/rules.js';

/** A cleaning rule as a page names it. */
export const ruleTitle = (name: string): string => RULES.find((rule) => rule.name === name)?.title ?? name;

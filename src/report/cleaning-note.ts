import type { CleanSettings } from '../clean/clean.js';
import { RULES } from '../clean/rules.js';
import { shortRuleTitle } from './rule-title.js';
import { counted } from './words.js';

/** Parameters of a rule that are not the default ones: `maxSeconds 90, usually 60`. */
function changesIn(own: object, usual: object): string[] {
  const before = new Map(Object.entries(usual));
  return Object.entries(own)
    .filter(([name, value]) => before.get(name) !== value)
    .map(([name, value]) => `${name} ${value}, usually ${before.get(name)}`);
}

/** What a reader has to know where cleaning is not the usual one: rules that are off or changed; null where it is. */
export function cleaningNote(settings: CleanSettings): string | null {
  const off = RULES.filter(({ name }) => settings[name] === undefined);
  if (off.length === RULES.length) {
    return 'Nothing was cleaned: coughs, handling and lost zeros are counted as pressure of the patient.';
  }
  const changed = RULES.flatMap(({ name, parameters }) => {
    const own = settings[name];
    const changes = own === undefined ? [] : changesIn(own, parameters.parse({}) as object);
    return changes.length === 0 ? [] : [`${shortRuleTitle(name)} (${changes.join('; ')})`];
  });
  if (off.length + changed.length === 0) return null;
  const parts = [
    ...(off.length > 0
      ? [`${counted(off.length, 'rule')} off: ${off.map(({ name }) => shortRuleTitle(name)).join(', ')}`]
      : []),
    ...(changed.length > 0 ? [`${counted(changed.length, 'rule')} changed: ${changed.join(', ')}`] : []),
  ];
  return `Cleaning is not the usual one. ${parts.join('. ')}.`;
}

import type { CareKind } from '../../recording/care.js';

/** Drains of other places do not touch ICP. */
const DRAIN =
  '(?:evd|(?<!(?:chest|pleural|wound|lumbar|abdominal|thorax|pleura|wund)[ -])drain(?:age)?|ventrikkeldren|ventrikeldrainage|ventriculostomy|ventricular (?:drain|catheter)|csf drain(?:age)?)';

/** Up to three words between a drain and what became of it; `to be opened` is an order, and no deed. */
const BETWEEN = '(?: (?!(?:to|not|if|should|may|must|can)\\b)[\\wåäöüß]+){0,3}?';

/**
 * Words of the trade for what is done at the bed, by kind. Common practice, no source. Drugs stand under their
 * international names.
 */
const KINDS: readonly (readonly [CareKind, RegExp])[] = [
  [
    'turn',
    /\b(?:turn(?:ed|s|ing)?(?! ?(?:on|off|up|down)\b)|re-?position(?:ed|ing|s)?|position(?:ing)? change|(?:change|changed) (?:of )?position|log ?-?roll(?:ed|ing|s)?|rolled|prone[ds]?|proning|supine|(?:left|right|l|r) (?:side|lateral)|pulled up (?:in bed)?|snudd|gelagert|umgelagert|lagerung)\b/,
  ],
  [
    'suction',
    /\b(?:suction(?:ed|ing|s)?|ets|(?:tracheal|airway|bronchial) toilet(?:te)?|endotracheal aspiration|abgesaugt|absaugen|absaugung|suget|suging)\b/,
  ],
  [
    'zeroing',
    /\b(?:re-?zero(?:ed|ing)?|zeroed|zeroing|zero(?=$| ?(?:cal|balance|check|point|icp|evd|art|abp|line|transducer|set))|null(?:abgleich|et|stilt|punkt))\b/,
  ],
  [
    'drainOpen',
    new RegExp(
      `\\b(?:${DRAIN}${BETWEEN} (?:(?:re-?)?open(?:ed)?|unclamped|draining|on (?:free |open )?drainage|offen|ge[öo]ffnet|[åa]pne?t|[åa]pen)|(?:(?:re-?)?open(?:ed|ing)?|unclamp(?:ed|ing)?)(?: of)?(?: the)? ${DRAIN})(?![a-zåäöüß])`,
    ),
  ],
  [
    'drainClosed',
    new RegExp(
      `\\b(?:${DRAIN}${BETWEEN} (?:(?:re-?)?(?:closed?|clamp(?:ed)?|shut)|off(?! (?:the )?(?:unit|floor))|geschlossen|abgeklemmt|zu(?=$)|lukket|stengt|klemt)|(?:clos(?:ed?|ing)|clamp(?:ed|ing)?|shut)(?: of)?(?: the)? ${DRAIN})(?![a-zåäöüß])`,
    ),
  ],
  [
    'travel',
    /\b(?:transport(?:ed)?|transfer(?:red)?|travel(?:led|ed)?|(?<!(?:portable|bedside) )(?:ct|cta|ct scan)|mri|mra|scan(?:ned|ner)?|imaging|radiology|angio(?:graphy)?|theat(?:re|er)|operating room|off (?:the )?unit)\b/,
  ],
  [
    'headOfBed',
    /\b(?:hob|head of (?:the )?bed|bed ?head|head ?(?:up|end)|headrest|backrest|oberk[öo]rper|hodeende)\b/,
  ],
  [
    'treatment',
    /\b(?:drug|medication|medicine|bolus|infusion|dose|treatment|osmotherapy|csf (?:drained|withdrawn|removed)|cooling|mannitol|hypertonic(?: saline)?|saline \d|nacl|propofol|midazolam|lorazepam|fentanyl|remifentanil|sufentanil|morphine|ketamine|thiopental|pentobarbital|dexmedetomidine|clonidine|rocuronium|vecuronium|cisatracurium|atracurium|nor(?:epinephrine|adrenaline)|epinephrine|adrenaline|phenylephrine|vasopressin|ephedrine|levetiracetam|phenytoin|valproate|paracetamol|acetaminophen|furosemide|labetalol|nicardipine)\b/,
  ],
];

/** Words before or behind it that say that it was not done, or not then. Common practice, no source. */
const NOT_BEFORE =
  /\b(?:no|not|if|when|to be|should|without|refused|declined|unable|cannot|planned|scheduled|awaiting|pending|returned|back)\b/;
const NOT_BEHIND =
  /\b(?:not|if|when|prn|as needed|before$|previously|earlier|refused|declined|deferred|cancel+ed|omitted|withheld|on hold|planned|scheduled|due(?! to)|pending)\b/;

/** An entry may tell of several things: `turned and suctioned`, `EVD clamped, to CT`. */
const CLAUSES = /[,;+&\n]|\.(?=\s|$)|\s\/\s|\b(?:and|then|but|und|og)\b/;

const clausesOf = (text: string): string[] =>
  text
    .toLowerCase()
    .replace(/[_\s]+/g, ' ')
    .split(CLAUSES)
    .map((clause) => clause.trim());

const ANY_DRAIN = new RegExp(`\\b${DRAIN}\\b`);

/** Opened and closed in one entry: nobody can say which way the drain was left. */
const tellsBothWays = (text: string): boolean =>
  ANY_DRAIN.test(text) && /\b(?:re-?)?open|\bunclamp/.test(text) && /\b(?:clamp|clos|shut)/.test(text);

function kindsInClause(clause: string): CareKind[] {
  const found = KINDS.flatMap(([kind, words]) => {
    const at = clause.search(words);
    const isTold = at >= 0 && !NOT_BEFORE.test(clause.slice(0, at)) && !NOT_BEHIND.test(clause.slice(at));
    return isTold ? [{ kind, at }] : [];
  });
  return found.sort((a, b) => a.at - b.at).map(({ kind }) => kind);
}

/** All that a text of a care log tells, each kind once in the order of the words; `other` where it is none known. */
export function careKinds(text: string): readonly [CareKind, ...CareKind[]] {
  const kinds = new Set(clausesOf(text).flatMap(kindsInClause));
  if (tellsBothWays(text.toLowerCase())) {
    kinds.delete('drainOpen');
    kinds.delete('drainClosed');
  }
  const [first = 'other', ...more] = kinds;
  return [first, ...more];
}

/** True where a text names a drain and does not say, in words that are known, what became of it. */
export const leavesDrainOpenOrNot = (text: string): boolean =>
  ANY_DRAIN.test(text.toLowerCase()) &&
  !careKinds(text).some((kind) => kind === 'drainOpen' || kind === 'drainClosed');

/** A bed that is tilted head down as a whole has its angle the other way. */
const HEAD_DOWN = /(?<!reverse )\btrendelenburg\b|(?:^|[\s:=(])[-\u2212]\d/;

/**
 * The angle that a text such as `HOB 30`, `head of bed 30°` or `HOB flat` gives, degrees; null where it gives none
 * or two, or one outside 0 to 90. Flat is 0 (common practice, no source).
 */
export function angleIn(text: string): number | null {
  const clause = clausesOf(text).find((one) => kindsInClause(one).includes('headOfBed')) ?? '';
  if (HEAD_DOWN.test(clause)) return null;
  const numbers = Array.from(clause.matchAll(/\d+(?:\.\d+)?/g), ([digits]) => Number(digits));
  if (numbers.length === 0) return /\bflat\b/.test(clause) ? 0 : null;
  return numbers.length === 1 && numbers[0] <= 90 ? numbers[0] : null;
}

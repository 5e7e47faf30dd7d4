import { EXPORTED_KINDS, type ExportedKind } from '../../recording/channel.js';

const artery = '(abp|art|ibp|ap|arterial( blood)? pressure|arterial bp)';

/**
 * Names of the trade, in lower case with single spaces and without the unit; PIC, PAM, PAS and PAD as they are
 * written in French, Spanish, Italian and Portuguese. Common practice, no source.
 */
const NAMES: Readonly<Record<ExportedKind, RegExp>> = {
  icp: /^(icp|icp ?m|icp mean|mean icp|icp ?[12]|intracranial pressure( mean)?|pic|icp (probe|bolt|parenchymal|intraparenchymal|ip)|(probe|bolt|parenchymal|intraparenchymal) icp)$/,
  icpDrain: /^(icp (drain|evd|ventricular)|(drain|evd|ventricular) (icp|pressure)|evd|evd icp)$/,
  map: new RegExp(
    `^(map|pam|${artery} ?(m|mean)|mean ${artery}|(mean arterial|mean blood) pressure|arterial pressure mean)$`,
  ),
  sbp: new RegExp(`^(sbp|pas|${artery} ?(s|sys|systolic)|(systolic|sys) (${artery}|blood pressure|bp))$`),
  dbp: new RegExp(`^(dbp|pad|${artery} ?(d|dia|diastolic)|(diastolic|dia) (${artery}|blood pressure|bp))$`),
  cpp: /^(cpp|cpp mean|cerebral perfusion pressure|ppc)$/,
  hr: /^(hr|hf|fc|heart ?rate|ecg hr|hr ecg|pulse|pulse ?rate|pr)$/,
  spo2: /^(spo2|spo2 %|sao2|oxygen saturation|o2 sat(uration)?|pulse oximetry)$/,
  rr: /^(rr|resp|resp(iratory|iration)? ?rate|respiration|breath(ing)? rate)$/,
  etco2: /^(et ?co2|co2 et|end ?tidal co2|end ?tidal carbon dioxide)$/,
  temp: /^(temp|temp(erature)?( (core|body|blood|brain|bladder|1))?|(core|body|blood|brain|bladder) temp(erature)?|t ?(core|blood|brain|bladder))$/,
  pbto2: /^(pbto2|pti ?o2|pbt o2|brain( tissue)? (oxygen|o2)( tension| pressure)?|ptio2|pbro2)$/,
};

/** True where the name means arterial pressure and does not say which: of a waveform, whose mean is MAP, it need not. */
export const saysArtery = (name: string): boolean => /^(abp|art|ibp|arterial( blood)? pressure)$/.test(name);

/** Names that say where an ICP is measured. */
const PROBE_NAMES = /\b(probe|bolt|parenchymal|intraparenchymal|ip)\b/;

/** The channel that a name means; null where it is none of the trade's words for one. */
export const channelNamed = (name: string): ExportedKind | null =>
  EXPORTED_KINDS.find((kind) => NAMES[kind].test(name.replace(/ (?:left|right|frontal)$/, ''))) ?? null;

/** True where the name says that a probe in the brain measures it. */
export const saysProbe = (name: string): boolean => PROBE_NAMES.test(name);

/** True where the name means a cuff, whose pressure comes a few times an hour and is never MAP. */
export const saysCuff = (name: string): boolean =>
  /\b(nibp|nbp|nibd|cuff|non ?invasive|noninvasive)/.test(name);

/** True where the name means an alarm, a limit or a state and no measured value. */
export const saysAlarm = (name: string): boolean =>
  /\b(alarms?|limits?|high|low|upper|lower|hi|lo|status|state|quality|flag|setpoint|target|priority)\b/.test(
    name,
  );

/** Headers that name a patient, or the bed that one lies in. Common practice, no source. */
export const saysPatient = (name: string): boolean =>
  /^(patient|patient ?(id|number|no|nr)|pat ?(id|no|nr)|pid|case|case ?id|subject|subject ?(id|no)|study ?(id|no)|mrn)$/.test(
    name,
  );
export const saysBed = (name: string): boolean =>
  /^(bed|bed ?(id|number|no|nr|label|name)|room|place|bett|bett ?(nr|nummer)|seng|lit|cama|letto)$/.test(
    name,
  );

/** Headers that may name a patient, so that a change in them is a change of patient; more than are asked for. */
export const mayNamePatient = (name: string): boolean =>
  saysPatient(name) ||
  /^(id|patient ?name|name of patient|(encounter|visit|stay|admission|fall|hospital)( ?(id|no|nr|number))?|patienten?(nummer|nr|id|name)|pasient(nummer|id|nr)?|paciente|paziente)$/.test(
    name,
  );

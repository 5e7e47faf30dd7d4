/** What stands on every report. */
export const CAUTIONS: readonly string[] = [
  'This report looks back at exported data. It is no alarm, no bedside display and no medical device; it is not for diagnosis or dosing.',
  'A figure is only as good as the probe, its zero and its level: verify at the bedside.',
  'Follow local protocol and the treating team.',
  'Association is not effect.',
];

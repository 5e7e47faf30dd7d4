import type { JSX } from 'preact';
import { BAND, CURVE, EXTENT } from '../charts/study-dose.js';
import { Key } from '../page/chart.js';
import { Table } from '../page/table.js';
import type { StudyResult } from '../results-study.js';
import type { StudyDoseResult } from '../results-study-dose.js';
import { counted, NONE } from '../words.js';
import type { DoseDrawings } from './dose-drawings.js';
import {
  doseRemarks,
  doseSays,
  doseValues,
  pText,
  rangeText,
  shareWithBounds,
  unitOf,
} from './dose-words.js';
import { SmallChart } from './small-chart.js';
import { WITH_NEXT } from './with-next.js';

function GroupsTable({ dose }: { dose: StudyDoseResult }): JSX.Element | null {
  const { groups, unit } = dose;
  if (groups === null) return null;
  const text = doseValues(dose);
  return (
    <Table
      columns={[
        { head: unitOf(unit) === '' ? 'Group' : `Group, ${unitOf(unit)}` },
        { head: 'Unfavourable', number: true },
        { head: 'Share, 95 % interval', number: true },
      ]}
      rows={groups.map((group) => ({
        key: String(group.from),
        cells: [
          rangeText(group, text),
          `${group.unfavourable} of ${group.patients}`,
          shareWithBounds(group.share),
        ],
      }))}
    />
  );
}

/** One feature: its chart, its groups, and what is odd about them. */
function Dose({ dose, svg }: { dose: StudyDoseResult; svg: string }): JSX.Element {
  return (
    <div class="together" style={{ width: 'max(26rem, 324px)' }}>
      <SmallChart
        svg={svg}
        title={
          <>
            <strong>{dose.title}</strong>, {counted(dose.known, 'patient')}
          </>
        }
        says={doseSays(dose)}
      />
      <GroupsTable dose={dose} />
      {doseRemarks(dose).map((remark) => (
        <p class="small" key={remark}>
          {remark}
        </p>
      ))}
    </div>
  );
}

type Curve = NonNullable<StudyDoseResult['curve']>;

const testText = ({ chiSquare, freedom, p }: Curve['association']): string =>
  `${chiSquare.toFixed(1)} (${freedom}), p ${p < 0.001 ? pText(p) : `= ${pText(p)}`}`;

function curveCells(dose: StudyDoseResult): string[] {
  const { curve } = dose;
  if (curve === null) return [NONE, NONE, NONE, NONE];
  return [
    testText(curve.association),
    testText(curve.nonLinearity),
    curve.knots.map(doseValues(dose)).join('; '),
    curve.eventsPerVariable.toFixed(1),
  ];
}

/** The tests of all curves. */
function CurvesTable({ dose }: { dose: readonly StudyDoseResult[] }): JSX.Element {
  return (
    <Table
      caption="Likelihood ratio tests of the curves: chi-square (degrees of freedom). Raw p-values; those that take into account how many features were asked about stand with the features. Patients per term: of the smaller outcome group"
      kind="wraps"
      columns={[
        { head: 'Feature' },
        { head: 'Against one chance for all', number: true },
        { head: 'Against a straight line', number: true },
        { head: 'Knots', number: true },
        { head: 'Patients per term', number: true },
      ]}
      rows={dose.map((one) => ({ key: one.key, cells: [one.title, ...curveCells(one)] }))}
    />
  );
}

/** How outcome goes along with burden, feature by feature. */
export function DoseSection({
  dose,
  drawings,
  outcome,
}: {
  readonly dose: readonly StudyDoseResult[];
  readonly drawings: DoseDrawings;
  readonly outcome: Pick<StudyResult['outcome'], 'words'>;
}): JSX.Element {
  const drawn = dose.flatMap((one) => {
    const svg = drawings[one.key];
    return svg ? [{ dose: one, svg }] : [];
  });
  const without = dose.filter(({ key }) => !drawings[key]);
  return (
    <section>
      <h2>Outcome over burden</h2>
      <p style={WITH_NEXT}>
        How the share of unfavourable outcomes ({outcome.words.unfavourable.replace(/^unfavourable: /, '')})
        goes along with each chosen feature: by groups of patients who are neighbours by it, and as a curve
        that takes no group for granted. No place on a curve is a limit, no edge of a group is one, and no cut
        was searched for. It is an association and not an effect.
      </p>
      {without.map(({ key, title, groupsReason, curveReason }) => (
        <p key={key}>
          {title}: there is no chart, since {groupsReason ?? curveReason}.
        </p>
      ))}
      {drawn.length > 0 && (
        <>
          <p class="small" style={WITH_NEXT}>
            <span class="key">● share in a group, at its median, with 95 % interval (Wilson)</span>
            <Key colour={EXTENT} shape="line">
              extent of the group
            </Key>
            <Key colour={CURVE} shape="line">
              chance by the curve
            </Key>
            <Key colour={BAND}>its 95 % interval at each value by itself</Key>
            <span class="key">⋯ share of all</span>
          </p>
          <div class="beside-each-other">
            {drawn.map((one) => (
              <Dose key={one.dose.key} {...one} />
            ))}
          </div>
          {dose.some(({ curve }) => curve !== null) && <CurvesTable dose={dose} />}
          <p class="small">
            Groups part patients by quantiles (own convention); patients with the same value stay together.
            The curve is a logistic regression on a restricted cubic spline, drawn between the 2.5th and the
            97.5th percentile (Harrell, Regression Modeling Strategies, 2nd ed. 2015); its interval holds at
            each value by itself and not for the curve as a whole. Intervals of groups: Wilson, J Am Stat
            Assoc 1927;22:209-12.
          </p>
        </>
      )}
    </section>
  );
}

import { describe, expect, it } from 'vitest';
import { renderSvg } from '../../../src/report/charts/render.js';
import type { UnitResults } from '../../../src/report/results-schema.js';
import type { StudyResult } from '../../../src/report/results-study.js';
import { drawFeatures } from '../../../src/report/study/feature-drawings.js';
import { FeaturesSection } from '../../../src/report/study/features-section.js';
import { LooksSection } from '../../../src/report/study/looks-section.js';
import { StudyMadeSection } from '../../../src/report/study/made-section.js';
import { OddsSection } from '../../../src/report/study/odds-section.js';
import { areaText, boundsText, oddsText, pText } from '../../../src/report/study/study-numbers.js';
import { studySentence } from '../../../src/report/study/study-sentence.js';
import { WordsSection } from '../../../src/report/study/words-section.js';
import { runR } from '../../support/r.js';
import { type Analysed, analysed, rowsOf, textOf, withGose } from './analysed.js';

const KEYS = { icpMeanMmHg: 5, icpDoseAbove22MmHgHours: 10, cppMeanMmHg: 5 };
const USUAL = analysed({ patients: 70, seed: 3 });
const THREE = analysed({ patients: 90, seed: 4, study: { features: KEYS } });
const PARTED = analysed({
  patients: 50,
  study: { features: KEYS },
  change: withGose((mean) => (mean > 17 ? 3 : 6)),
});
const FIVE = analysed({ patients: 6 });
const ONE_GROUP = analysed({ patients: 30, change: withGose(() => 7) });
const CONSTANT = analysed({
  patients: 40,
  study: { features: { icpMeanMmHg: 5, icpHoursAbove60: 1 }, levels: { icpAboveMmHg: [60] } },
});
const NULL = analysed({ patients: 60, seed: 5, logOdds: 0, study: { features: KEYS } });
const TWO_LEVELS = analysed({ patients: 50, study: { features: KEYS, outcome: { scale: 'mortality' } } });
const UNKNOWN_PUPILS = analysed({
  patients: 50,
  study: { features: KEYS },
  change: (member) =>
    member.row === null ? member : { ...member, row: { ...member.row, pupilsReacting: null } },
});
const UNADJUSTED = analysed({ patients: 50, study: { features: KEYS, adjusters: [] } });

const ALL = {
  usual: USUAL,
  three: THREE,
  parted: PARTED,
  five: FIVE,
  'one group': ONE_GROUP,
  'a constant feature': CONSTANT,
  'no relation': NULL,
  'two levels': TWO_LEVELS,
  'unknown pupils': UNKNOWN_PUPILS,
  'nothing to adjust by': UNADJUSTED,
};

const odds = (of: Analysed, svg: string | null = null) => <OddsSection {...of} svg={svg} />;
const made = ({ asked, outcome }: Analysed, change: object = {}) => (
  <StudyMadeSection
    results={
      {
        counts: { rowsRead: 12, rowsUsed: 11, rowsSetAside: 1 },
        logs: [],
        cleaningNote: null,
        unit: { levellingNote: null },
      } satisfies Parameters<typeof StudyMadeSection>[0]['results'] &
        Partial<Record<keyof UnitResults, unknown>>
    }
    study={
      {
        asked,
        outcome: {
          ...outcome,
          scale: 'gose',
          scaleIsOfTable: true,
          favourableFrom: 5,
          cutSource: 'common practice, no source',
          months: 6,
          withinMonths: 1,
        },
        maps: [],
        patientsAs: 'pseudonyms',
        ...change,
      } as unknown as StudyResult
    }
  />
);

const pageText = (of: Analysed): string =>
  [
    studySentence(of.asked, of.outcome, of.features, of.flow),
    textOf(<WordsSection {...of} />),
    textOf(<FeaturesSection {...of} />),
    textOf(odds(of)),
    textOf(<LooksSection {...of} />),
    textOf(made(of)),
  ].join(' ');

describe.each(Object.entries(ALL))('the page of a study: %s', (_, of) => {
  const text = pageText(of);

  it('claims nothing that an association cannot', () => {
    expect(text).not.toMatch(/\bsignifican/i);
    expect(text).not.toMatch(/\bpredict(?!ors?\b)/i);
    expect(text).not.toMatch(/\bcaus(e|es|ed|al|ing)\b/i);
  });

  it('has no figure that is none, and no id of a patient', () => {
    expect(text).not.toMatch(/NaN|Infinity|undefined|null|\[object|\.\.(?!\.)|: \.|\( ?\)/);
    for (const { id } of of.cohort.members) expect(text).not.toMatch(new RegExp(`(?<![.\\d])${id}(?!\\d)`));
  });

  it('tells of each feature what results tell', () => {
    const rows = rowsOf(<FeaturesSection {...of} />, 'Median with quartiles');
    expect(rows).toHaveLength(of.features.length);
    for (const [i, { spread, tests, area, pairsHigher, rankSumMethod }] of of.features.entries()) {
      const [, favourable, unfavourable, w, p, holm, areaCell] = rows[i];
      expect(Number(w[0])).toEqual(pairsHigher ?? Number.NaN);
      expect(p).toEqual([
        pText(tests.rankSum.p),
        ...(rankSumMethod === null ? [] : [{ exact: 'exact', normal: 'normal approx.' }[rankSumMethod]]),
      ]);
      expect(holm).toEqual([pText(tests.rankSum.holmP)]);
      expect(areaCell).toEqual([
        areaText(area.value),
        ...(area.lower === null ? [] : [boundsText(area, areaText)]),
      ]);
      for (const [cell, side] of [
        [favourable, spread.favourable],
        [unfavourable, spread.unfavourable],
      ] as const) {
        expect(cell.includes(`known of ${side.known}`)).toBe(side.missing > 0);
        if (side.median === null) expect(cell[0]).toBe('–');
        else if (/^[−\d.]+$/.test(cell[0])) {
          const shown = Number(cell[0].replace('−', '-'));
          const decimals = cell[0].split('.')[1]?.length ?? 0;
          expect(Math.abs(shown - side.median)).toBeLessThanOrEqual(0.500_001 * 10 ** -decimals);
        } else expect(cell[0]).toMatch(/^<(1|0\.1|0\.01)$/);
      }
      for (const { reason, count } of of.features[i].missing) {
        expect(textOf(<FeaturesSection {...of} />)).toContain(`${reason} (${count})`);
      }
    }
  });

  it('tells of each look what results tell', () => {
    const section = <LooksSection {...of} />;
    if (of.looks.every(({ features }) => features.every(({ area }) => area.value === null))) {
      expect(textOf(section)).toContain('In none of them can anything be compared: ');
      return;
    }
    const [areas, ratios] = [rowsOf(section, 'Area under the ROC'), rowsOf(section, 'Odds ratio of an')];
    for (const [k, look] of of.looks.entries()) {
      expect(textOf(section)).toContain(
        `${look.title}; ${look.unfavourable} of ${look.patients} unfavourable`,
      );
      for (const [i, { area, rankSumP, odds: own, adjustedOdds }] of look.features.entries()) {
        expect(areas[i][k + 1][0]).toBe(areaText(area.value));
        expect(areas[i][k + 1].includes(`p ${pText(rankSumP)}`)).toBe(rankSumP !== null);
        expect(ratios[i][k + 1][0].split(' ')[0]).toBe(oddsText(own.value));
        if (adjustedOdds.value !== null) {
          expect(ratios[i][k + 1][1]).toContain(`adjusted ${oddsText(adjustedOdds.value)}`);
        }
      }
    }
  });
});

describe('odds ratios on the page', () => {
  it.each(Object.entries({ USUAL, THREE, PARTED, NULL, UNKNOWN_PUPILS }))(
    'are those of results: %s',
    (_, of) => {
      const rows = rowsOf(odds(of), 'Unfavourable against favourable');
      for (const [i, { logistic, adjusted, tests }] of of.features.entries()) {
        const [, alone, p, holm, same, with_, adjustedP, adjustedHolm] = rows[i];
        for (const [cell, model] of [
          [alone, logistic],
          [with_, adjusted.logistic],
        ] as const) {
          if (model === null) expect(cell).toEqual(['–']);
          else {
            expect(cell.slice(0, 3)).toEqual([
              oddsText(model.value),
              boundsText(model.profile, oddsText),
              `${model.events} of ${model.patients}`,
            ]);
            expect(cell.some((line) => line.startsWith('few events'))).toBe(model.hasFewEvents);
            expect(cell.includes("Firth's")).toBe(model.method === 'penalised likelihood');
          }
        }
        expect([p, holm, same, adjustedP, adjustedHolm]).toEqual([
          [pText(tests.logistic.p)],
          [pText(tests.logistic.holmP)],
          [oddsText(adjusted.unadjusted)],
          [pText(tests.adjustedLogistic.p)],
          [pText(tests.adjustedLogistic.holmP)],
        ]);
      }
    },
  );

  it('stand at each cut of the scale by itself, with how to read them, where two cuts can be told', () => {
    const rows = rowsOf(odds(THREE), 'The same at each cut of the scale by itself');
    expect(rows).toHaveLength(3);
    const told = THREE.features.map(({ cuts }) => cuts.filter(({ logistic }) => logistic !== null));
    const froms = [...new Set(told.flat().map(({ from }) => from))].sort();
    expect(froms.length).toBeGreaterThan(3);
    for (const [i, { ordinal, cuts, known }] of THREE.features.entries()) {
      const [, all, ...cells] = rows[i];
      expect(all).toEqual([oddsText(ordinal?.value ?? null)]);
      expect(cells.map(([value]) => value)).toEqual(
        froms.map((from) => oddsText(told[i].find((cut) => cut.from === from)?.logistic?.value ?? null)),
      );
      for (const { worse, better, logistic, logisticReason } of cuts) {
        expect(worse + better).toBe(known);
        expect(logistic === null).toBe(Math.min(worse, better) < 10);
        if (logistic === null) expect(logisticReason).toBe('a side of the cut has fewer than 10 patients');
        else expect([logistic.events, logistic.patients]).toEqual([worse, known]);
      }
      // That of the study is among them.
      expect(cuts.find(({ from }) => from === 5)?.logistic).toEqual(THREE.features[i].logistic);
    }
    expect(textOf(odds(THREE))).toContain('1 to 4 / 5 to 8');
    expect(textOf(odds(THREE))).toContain('one common ratio does not describe the feature');
    for (const none of [TWO_LEVELS, FIVE, ONE_GROUP]) {
      expect(none.features.flatMap(({ cuts }) => cuts)).toEqual([]);
      expect(textOf(odds(none))).not.toContain('at each cut of the scale by itself');
    }
  });

  it('have those of the whole scale, said to be taken for granted', () => {
    const rows = rowsOf(odds(THREE), 'A worse outcome over the whole scale');
    expect(textOf(odds(THREE))).toContain('is taken for granted and not tested');
    for (const [i, { ordinal, adjusted, tests }] of THREE.features.entries()) {
      const [, alone, p, holm, with_, adjustedP, adjustedHolm] = rows[i];
      for (const [cell, model] of [
        [alone, ordinal!],
        [with_, adjusted.ordinal!],
      ] as const) {
        expect(cell).toEqual([
          oddsText(model.value),
          boundsText(model.profile, oddsText),
          `${model.patients} patients, ${model.levels} levels`,
        ]);
      }
      expect([p, holm, adjustedP, adjustedHolm].flat()).toEqual(
        [tests.ordinal.p, tests.ordinal.holmP, tests.adjustedOrdinal.p, tests.adjustedOrdinal.holmP].map(
          pText,
        ),
      );
    }
  });

  it("have Wald's intervals beside, and none where the outcomes are parted", () => {
    const rows = rowsOf(odds(THREE), 'The same odds ratios');
    for (const [i, { logistic, ordinal, adjusted }] of THREE.features.entries()) {
      const models = [logistic, adjusted.logistic, ordinal, adjusted.ordinal];
      expect(rows[i].slice(1)).toEqual(
        models.map((model) => [boundsText(model!.wald, oddsText), `p ${pText(model!.wald.p)}`]),
      );
    }
    const [mean] = PARTED.features;
    expect([mean.logistic?.separation, mean.area.value, mean.area.lower]).toEqual(['complete', 1, null]);
    expect(rowsOf(odds(PARTED), 'The same odds ratios')[0].slice(1, 3)).toEqual([['–'], ['–']]);
    expect(textOf(odds(PARTED))).toContain('Unadjusted and adjusted: the outcomes are parted completely.');
    expect(textOf(odds(PARTED))).toContain(
      'Alone in the complete patients: the predictors part the outcomes',
    );
  });

  it('name what is adjusted by, and what was left out', () => {
    expect(textOf(odds(THREE))).toContain(
      'Adjusted by age, total of the GCS and number of reacting pupils, each as one number',
    );
    expect(UNKNOWN_PUPILS.features[0].adjusted.adjusters).toEqual(['ageYears', 'gcsTotal']);
    expect(textOf(odds(UNKNOWN_PUPILS))).toContain(
      'Not adjusted: by number of reacting pupils, not known of any patient.',
    );
    expect(textOf(odds(UNADJUSTED))).toContain('The pipeline file names nothing to adjust by.');
    expect(rowsOf(odds(UNADJUSTED), 'Unfavourable against favourable')[0]).toHaveLength(4);
  });

  it('are not there where there are two levels, too few patients, or one group, and say why once', () => {
    expect(textOf(odds(TWO_LEVELS))).toContain(
      'There are none of a worse outcome over the whole scale (proportional odds): the outcome has two levels, for which it is the logistic regression.',
    );
    expect(textOf(odds(ONE_GROUP))).toContain(
      'There are no such odds ratios: no patient with a value has an unfavourable outcome',
    );
    expect(textOf(odds(ONE_GROUP))).toContain('either, for the same reasons.');
    expect(textOf(odds(FIVE))).toContain(
      '5 patients have a value and an outcome, and a comparison needs 10 (mean ICP, ',
    );
  });

  it('stand in a row by itself where a feature is the same in all', () => {
    const [mean, hours] = CONSTANT.features;
    expect(mean.logistic).not.toBeNull();
    expect(hours.logisticReason).toBe('all patients have the same value');
    expect(rowsOf(odds(CONSTANT), 'Unfavourable against favourable')[1].slice(1).flat()).toEqual(
      Array.from({ length: 7 }, () => '–'),
    );
    expect(textOf(<FeaturesSection {...CONSTANT} />)).toContain(
      'Not compared: all patients have the same value.',
    );
  });

  it('are drawn where there is one, and the chart has a text of its own', async () => {
    const { forest } = await drawFeatures(THREE, renderSvg);
    expect(forest).toMatch(/^<svg /);
    expect((await drawFeatures(FIVE, renderSvg)).forest).toBeNull();
    expect(textOf(odds(THREE, forest))).toContain('adjusted (square)');
    const alone = await drawFeatures(UNADJUSTED, renderSvg);
    expect(textOf(odds(UNADJUSTED, alone.forest))).not.toContain('adjusted (square)');
  });
});

interface OfR {
  readonly w: number;
  readonly p: number;
  readonly auc: number[];
  readonly or: number[];
  readonly lr: number;
}

describe('the page of a study against R', () => {
  // R's wilcox.test, p.adjust, glm and confint, and pROC's ci.auc, on the same values; a page has two or three decimals.
  it('has the figures of R, rounded', () => {
    const { groups, settings } = THREE.cohort;
    const columns = settings.chosen.map(({ key }) =>
      groups.coded.flatMap(({ patient, isFavourable }) =>
        typeof patient.features[key] === 'number' ? [[patient.features[key], Number(!isFavourable)]] : [],
      ),
    );
    const answer = runR<{ features: OfR[]; holm: number[]; holmLr: number[] }>(
      `suppressMessages(library(pROC))
      features <- Map(function(rows, step) {
        m <- do.call(rbind, lapply(rows, unlist)); v <- m[, 1]; e <- m[, 2]; x <- v / step
        t <- suppressWarnings(wilcox.test(v[e == 1], v[e == 0]))
        r <- roc(e, v, levels = c(0, 1), direction = "<", quiet = TRUE)
        fit <- glm(e ~ x, binomial, epsilon = 1e-12)
        list(w = unname(t$statistic), p = t$p.value, auc = I(as.numeric(ci.auc(r))),
          or = I(unname(exp(c(coef(fit)["x"], suppressMessages(confint(fit)["x", ]))))),
          lr = pchisq(fit$null.deviance - deviance(fit), 1, lower.tail = FALSE))
      }, input$columns, input$steps)
      list(features = unname(features), holm = I(p.adjust(sapply(features, function(f) f$p), "holm")),
        holmLr = I(p.adjust(sapply(features, function(f) f$lr), "holm")))`,
      { columns, steps: settings.chosen.map(({ step }) => step) },
    );
    const tests = rowsOf(<FeaturesSection {...THREE} />, 'Median with quartiles');
    const models = rowsOf(odds(THREE), 'Unfavourable against favourable');
    const near = (text: string, value: number, decimals: number): void => {
      if (text.startsWith('<')) expect(value).toBeLessThan(Number(text.slice(1)));
      else expect(Math.abs(Number(text) - value), text).toBeLessThanOrEqual(0.51 * 10 ** -decimals);
    };
    for (const [i, { w, p, auc, or, lr }] of answer.features.entries()) {
      expect(Number(tests[i][3][0])).toBe(w);
      near(tests[i][4][0], p, 3);
      near(tests[i][5][0], answer.holm[i], 3);
      near(tests[i][6][0], auc[1], 2);
      const [lower, upper] = tests[i][6][1].split(' to ');
      near(lower, auc[0], 2);
      near(upper, auc[2], 2);
      near(models[i][1][0], or[0], 2);
      const [low, high] = models[i][1][1].split(' to ');
      near(low, or[1], 2);
      near(high, or[2], 2);
      near(models[i][2][0], lr, 3);
      near(models[i][3][0], answer.holmLr[i], 3);
    }
  });
});

describe('guard rails and methods', () => {
  it('say each sentence of results, with what it is about', () => {
    const text = textOf(<WordsSection {...USUAL} />);
    for (const { sentence } of USUAL.words) expect(text).toContain(sentence.replace(/\s+/g, ' '));
    expect(text).toContain('Association is not effect. That burden goes with outcome');
    expect(textOf(<WordsSection {...ONE_GROUP} />)).toContain('One group. All outcomes are favourable');
    expect(WordsSection({ words: [] })).toBeNull();
  });

  it('tell what was settled, how each chosen feature is made, and where the tables are', () => {
    const text = textOf(made(THREE));
    expect(text).toContain('those that the pipeline file names');
    expect(text).toContain('adjusted by age, total of the GCS and number of reacting pupils, the usual ones');
    expect(text).toContain('first 72 h of monitoring');
    expect(text).toContain('assessed 6 months after the injury, 1 more or less');
    expect(text).toContain('No best cut of a feature was searched for');
    for (const { definition, source, key } of THREE.asked.chosen) {
      expect(text).toContain(`${definition} Source: ${source}.`);
      expect(text).toContain(key);
    }
    for (const file of ['features.csv', 'csv-metadata.json', 'dictionary.csv', 'Parquet']) {
      expect(text).toContain(file);
    }
    expect(textOf(made(USUAL))).toContain('the usual ones of this report');
    expect(textOf(made(UNADJUSTED))).toContain('the pipeline file asks for no adjustment');
  });

  it('tell of pseudonyms where patients have them, and of draws where there is a map', () => {
    expect(textOf(made(THREE))).toContain('what is passed on is not anonymous');
    expect(textOf(made(THREE, { patientsAs: 'numbers' }))).not.toContain('pseudonym');
    const maps = [{ leastWithEpisode: 10, resamples: 1000, stableShare: 0.95 }];
    expect(textOf(made(THREE, { maps }))).toContain(
      'blank under 10 patients with such an episode. 1000 draws of whole patients',
    );
  });
});

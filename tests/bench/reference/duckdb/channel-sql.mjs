/**
 * A channel as pieces between neighbouring samples, with the rules that took each as bits, so that one pass over the
 * pieces serves every set of rules. Rows keep the order of the export, so windows without ORDER BY stream.
 */
export const BITS = { outsideRange: 1, flatline: 2, negative: 4 };
/** Set where a piece is longer than maxGap, whatever the rules. */
export const GAP_BIT = 8;
/** Room of one channel's bits; those of MAP stand above those of ICP in CPP. */
export const CHANNEL_BITS = 16;

export const readSql = (path) => `
  CREATE OR REPLACE TEMP TABLE read AS
  SELECT epoch_ms("Time") AS ms, icp, map
  FROM read_csv('${path.replaceAll("'", "''")}', header = true, delim = ',', auto_detect = false,
    columns = {'Time': 'TIMESTAMP', 'icp': 'DOUBLE', 'map': 'DOUBLE'});
  -- An hour before the first, so that windows may begin before the data.
  SET VARIABLE base = (SELECT min(ms) // 3600000 * 3600000 - 3600000 FROM read);
  CREATE OR REPLACE TEMP TABLE export AS SELECT (ms - getvariable('base'))::DOUBLE AS t, icp, map FROM read;`;

/** Samples with the next one beside each; the rate is taken as steady. */
export const samplesSql = (kind) => `
  CREATE OR REPLACE TEMP TABLE ${kind} AS
  SELECT row_number() OVER () - 1 AS i, t, ${kind} AS x, lead(t) OVER () AS t1, lead(${kind}) OVER () AS x1
  FROM export WHERE ${kind} IS NOT NULL;
  SET VARIABLE gap = (SELECT least(900000, greatest(2000, 3 * median(t1 - t))) FROM ${kind});`;

const known = `t1 - t <= getvariable('gap')`;

const outsideSql = (kind, [lowest, highest]) => `
  SELECT 'outsideRange' AS rule, min(i) AS first, max(i) AS last, min(t) AS t, max(t) AS t1
  FROM (SELECT i, t, i - row_number() OVER () AS run FROM ${kind} WHERE x < ${lowest} OR x > ${highest})
  GROUP BY run`;

/** Runs of equal values that chance does not give; not where ICP stands at the highest value that it can show. */
const flatlineSql = (kind) => `
  WITH pairs AS (
    SELECT count(*) AS pairs, count(*) FILTER (x <> x1) AS different FROM ${kind} WHERE ${known}
  ), runs AS (
    SELECT min(i) AS first, max(i) + 1 AS last, min(t) AS t, max(t1) AS t1, any_value(x) AS x, count(*) AS repeats
    FROM (SELECT *, i - row_number() OVER () AS run FROM ${kind} WHERE ${known} AND x = x1)
    GROUP BY run HAVING count(*) >= 3
  ), chances AS (
    SELECT runs.*, pow(1 - CASE WHEN pairs > repeats THEN different / (pairs - repeats) ELSE 0 END, repeats) AS chance,
      different >= greatest(5, pairs / 1000) AS has_lived
    FROM runs, pairs
  ), highest AS (
    SELECT max(x) AS value FROM ${kind} WHERE x BETWEEN -20 AND 150
  ), ceiling AS (
    SELECT value FROM highest
    WHERE ${kind === 'icp'}
      AND EXISTS (FROM chances WHERE x = value AND t1 - t >= 15000 AND chance < 1e-6)
      AND (SELECT count(*) FROM (SELECT x, lag(x) OVER () AS before FROM ${kind})
           WHERE x = value AND before IS DISTINCT FROM value) >= 3
  )
  SELECT 'flatline' AS rule, first, last, t, t1 FROM chances
  WHERE t1 - t >= 300000 AND CASE WHEN has_lived THEN chance ELSE pow(0.9, repeats) END < 1e-6
    AND x NOT IN (FROM ceiling)`;

const negativeSql = `
  WITH under AS (
    SELECT i, t, before, holes FROM (
      SELECT i, t, x, lag(t) OVER () AS before,
        sum(CASE WHEN ${known} THEN 0 ELSE 1 END) OVER (ROWS BETWEEN UNBOUNDED PRECEDING AND CURRENT ROW)
          - CASE WHEN ${known} THEN 0 ELSE 1 END AS holes
      FROM icp)
    WHERE x < 0
  ), parted AS (
    SELECT *, CASE WHEN holes <> lag(holes) OVER () OR before - lag(t) OVER () > 30000 THEN 1 ELSE 0 END AS new FROM under
  ), stretches AS (
    SELECT *, sum(new) OVER (ROWS BETWEEN UNBOUNDED PRECEDING AND CURRENT ROW) AS stretch FROM parted
  )
  SELECT 'negative' AS rule, min(i) AS first, max(i) AS last, min(t) AS t, max(t) AS t1
  FROM stretches GROUP BY stretch
  HAVING max(t) - min(t) >= 300000 AND count(*) >= 0.8 * (max(i) - min(i) + 1)`;

const RANGES = { icp: [-20, 150], map: [0, 300] };

/** Stretches of samples that the rules take. */
export const spansSql = (kind) => `
  CREATE OR REPLACE TEMP TABLE ${kind}_spans AS
  FROM (${outsideSql(kind, RANGES[kind])}) UNION ALL FROM (${flatlineSql(kind)})
  ${kind === 'icp' ? `UNION ALL FROM (${negativeSql})` : ''};`;

/** Stretches longer than maxGap in which rows came, but with blanks. */
export const blanksSql = (kind) => `
  WITH edges AS (
    FROM (SELECT t, t1 FROM ${kind} WHERE t1 - t > getvariable('gap'))
    UNION ALL (SELECT (SELECT min(t) FROM export), (SELECT min(t) FROM ${kind}))
    UNION ALL (SELECT (SELECT max(t) FROM ${kind}), (SELECT max(t) FROM export))
  ), blanks AS (SELECT t FROM export WHERE ${kind} IS NULL)
  SELECT DISTINCT edges.t, edges.t1 FROM edges JOIN blanks ON blanks.t >= edges.t AND blanks.t <= edges.t1
  WHERE edges.t1 - edges.t > getvariable('gap')`;

/** Every piece with its bits: a span takes the pieces on both sides of each sample that it covers. */
export const piecesSql = (kind) => `
  CREATE OR REPLACE TEMP TABLE ${kind}_taken AS
  SELECT i, bit_or(bit) AS bits FROM (
    SELECT unnest(range(greatest(first - 1, 0), last + 1)) AS i,
      CASE rule WHEN 'outsideRange' THEN ${BITS.outsideRange} WHEN 'flatline' THEN ${BITS.flatline} ELSE ${BITS.negative} END AS bit
    FROM ${kind}_spans)
  GROUP BY i;
  CREATE OR REPLACE TEMP TABLE ${kind}_pieces AS
  SELECT s.*, coalesce(bits, 0) | CASE WHEN ${known} THEN 0 ELSE ${GAP_BIT} END AS bits
  FROM ${kind} AS s LEFT JOIN ${kind}_taken USING (i) WHERE t1 IS NOT NULL;`;

/** CPP at each time of either channel; between neighbouring times both are linear. */
export const cppSql = `
  CREATE OR REPLACE TEMP TABLE cpp_pieces AS
  WITH grid AS (
    SELECT t, lead(t) OVER () AS t1,
      count(icp) OVER (ROWS BETWEEN UNBOUNDED PRECEDING AND CURRENT ROW) - 1 AS at_icp,
      count(map) OVER (ROWS BETWEEN UNBOUNDED PRECEDING AND CURRENT ROW) - 1 AS at_map
    FROM export WHERE icp IS NOT NULL OR map IS NOT NULL
  )
  SELECT g.t, g.t1,
    round(${['t', 't1']
      .map(
        (end) =>
          `(${['m', 'c']
            .map(
              (p) => `CASE WHEN ${p}.t = g.${end} THEN ${p}.x WHEN ${p}.t1 = g.${end} THEN ${p}.x1
      ELSE ${p}.x + (${p}.x1 - ${p}.x) * (g.${end} - ${p}.t) / (${p}.t1 - ${p}.t) END`,
            )
            .join(' - ')})`,
      )
      .join(', 10) AS x, round(')}, 10) AS x1,
    c.bits | (m.bits * ${CHANNEL_BITS}) AS bits
  FROM grid AS g JOIN icp_pieces AS c ON c.i = at_icp JOIN map_pieces AS m ON m.i = at_map;`;

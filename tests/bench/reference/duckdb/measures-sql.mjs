/** Measures of the pieces by minute and set of bits, from which every window and every set of rules is summed. */

const above = (u) => `CASE WHEN low >= ${u} AND high > ${u} THEN width
  WHEN high > ${u} THEN width * (high - ${u}) / (high - low) ELSE 0 END`;
const below = (u) => `CASE WHEN high <= ${u} AND low < ${u} THEN width
  WHEN low < ${u} THEN width * (${u} - low) / (high - low) ELSE 0 END`;
const within = (lo, hi, closed) => `CASE
  WHEN low = high THEN CASE WHEN low >= ${lo} AND (low < ${hi} ${closed ? `OR low = ${hi}` : ''}) THEN width ELSE 0 END
  ELSE width * greatest(0, least(high, ${hi}) - greatest(low, ${lo})) / (high - low) END`;
const areaAbove = (u) => `CASE WHEN low >= ${u} THEN ((low + high) / 2 - ${u}) * width
  WHEN high > ${u} THEN pow(high - ${u}, 2) * width / (2 * (high - low)) ELSE 0 END`;
const areaBelow = (u) => `CASE WHEN high <= ${u} THEN (${u} - (low + high) / 2) * width
  WHEN low < ${u} THEN pow(${u} - low, 2) * width / (2 * (high - low)) ELSE 0 END`;

export const MEASURES = {
  icp: {
    width: 'width',
    area: '(low + high) / 2 * width',
    hoursBelowBand: below(5),
    hoursWithinBand: within(5, 15, true),
    hoursAboveBand: above(15),
    hoursAboveThreshold: above(22),
    doseMmHgHours: areaAbove(22),
  },
  map: { width: 'width' },
  cpp: {
    width: 'width',
    area: '(low + high) / 2 * width',
    hoursBelowFloor: below(60),
    doseBelowFloorMmHgHours: areaBelow(60),
    band0: below(50),
    band1: within(50, 60, false),
    band2: within(60, 70, true),
    band3: above(70),
  },
};

/** Pieces cut at whole minutes; a piece longer than a minute is never known here, so one cut is enough. */
export const cutSql = (kind) => `
  CREATE OR REPLACE TEMP TABLE ${kind}_cut AS
  WITH bounds AS (SELECT *, (floor(t / 60000) + 1) * 60000 AS b FROM ${kind}_pieces WHERE t1 - t <= 60000),
  middles AS (SELECT *, x + (x1 - x) * (b - t) / (t1 - t) AS y FROM bounds WHERE t1 > b)
  SELECT t, t1, x, x1, bits FROM bounds WHERE t1 <= b
  UNION ALL SELECT t, b, x, y, bits FROM middles
  UNION ALL SELECT b, t1, y, x1, bits FROM middles;`;

export const minutesSql = (kind) => `
  CREATE OR REPLACE TEMP TABLE ${kind}_minutes AS
  SELECT floor(t / 60000)::INTEGER AS minute, bits,
    ${Object.entries(MEASURES[kind])
      .map(([name, sql]) => `sum(${sql}) AS "${name}"`)
      .join(', ')}
  FROM (SELECT t, t1 - t AS width, least(x, x1) AS low, greatest(x, x1) AS high, bits FROM ${kind}_cut)
  GROUP BY ALL;`;

/** Time at each value that ICP takes, and how its density changes there, by hour of the clock and set of bits. */
export const valuesSql = `
  CREATE OR REPLACE TEMP TABLE icp_values AS
  WITH p AS (
    SELECT floor(t / 3600000)::INTEGER AS hour, bits, t1 - t AS width, least(x, x1) AS low, greatest(x, x1) AS high FROM icp_cut
  )
  SELECT hour, bits, value, sum(atom) AS atom, sum(slope) AS slope FROM (
    SELECT hour, bits, low AS value, CASE WHEN high - low <= 1e-7 THEN width ELSE 0 END AS atom,
      CASE WHEN high - low <= 1e-7 THEN 0 ELSE width / (high - low) END AS slope FROM p
    UNION ALL SELECT hour, bits, high, 0, -width / (high - low) FROM p WHERE high - low > 1e-7)
  GROUP BY ALL;`;

/** Sums over each window; \`windows\` holds start and end in minutes and the bits that make a piece unknown. */
export const windowSumsSql = (kind) => `
  SELECT w.id, ${Object.keys(MEASURES[kind])
    .map((name) => `coalesce(sum("${name}"), 0)::DOUBLE AS "${name}"`)
    .join(', ')}
  FROM windows AS w LEFT JOIN ${kind}_minutes AS m
    ON minute >= floor(w.start) AND minute < w.end AND (bits & w.${kind}_mask) = 0
  GROUP BY w.id ORDER BY w.id`;

/** The highest or lowest 5-min mean inside each window; a mean is over windows known for at least half. */
export const fiveMinutesSql = (kind, pick) => `
  WITH masks AS (SELECT DISTINCT ${kind}_mask AS mask FROM windows WHERE has_extreme),
  known AS (
    SELECT mask, minute, sum(width) AS width, sum(area) AS area FROM masks JOIN ${kind}_minutes ON (bits & mask) = 0
    GROUP BY mask, minute
  ), dense AS (
    SELECT mask, minute, coalesce(width, 0) AS width, coalesce(area, 0) AS area
    FROM (SELECT mask, unnest(range(0, (SELECT max("end")::INTEGER + 10 FROM windows)))::INTEGER AS minute FROM masks)
    LEFT JOIN known USING (mask, minute)
  ), means AS (
    SELECT mask, minute, sum(width) OVER five AS width, sum(area) OVER five AS area FROM dense
    WINDOW five AS (PARTITION BY mask ORDER BY minute ROWS BETWEEN CURRENT ROW AND 4 FOLLOWING)
  )
  SELECT w.id, ${pick}(area / width) AS mean FROM windows AS w
  LEFT JOIN means AS m ON has_extreme AND m.mask = w.${kind}_mask AND minute >= w.start AND minute + 5 <= w.end AND width >= 150000
  GROUP BY w.id ORDER BY w.id`;

/** The time-weighted median over each window. */
export const mediansSql = `
  WITH summed AS (
    SELECT w.id, value, sum(atom) AS atom, sum(slope) AS slope FROM windows AS w JOIN icp_values AS v
      ON hour >= floor(w.start / 60) AND hour < w.end / 60 AND (bits & w.icp_mask) = 0
    GROUP BY w.id, value
  ), densities AS (
    SELECT id, value, lead(value) OVER up AS next, atom, greatest(0, sum(slope) OVER up) AS density
    FROM summed WINDOW up AS (PARTITION BY id ORDER BY value)
  ), rooms AS (
    SELECT *, coalesce(density * (next - value), 0) AS room FROM densities
  ), levels AS (
    SELECT *, sum(atom + room) OVER up - room AS level FROM rooms WINDOW up AS (PARTITION BY id ORDER BY value)
  ), targets AS (
    SELECT *, max(level) OVER (PARTITION BY id) AS total FROM levels
  ), firsts AS (
    SELECT *, total / 2 AS target, total * 1e-12 AS slack FROM targets
    WHERE level + total * 1e-12 >= total / 2 OR level + room >= total / 2
    QUALIFY row_number() OVER (PARTITION BY id ORDER BY value) = 1
  )
  SELECT id, CASE
    WHEN level >= target + slack OR next IS NULL THEN value
    WHEN level + slack < target THEN value + (target - level) / density
    WHEN room > slack THEN value
    -- No time lies between this value and the next one: the gap is split.
    ELSE (value + next) / 2 END AS median
  FROM firsts ORDER BY id`;

/** Where ICP, cleaned, comes into view, crosses the threshold and leaves view again, in time order. */
export const crossingsSql = (mask, threshold) => `
  WITH p AS (
    SELECT *, (bits & ${mask}) = 0 AS known, x - ${threshold} AS a, x1 - ${threshold} AS b FROM icp_pieces
  ), n AS (
    SELECT *, lag(known) OVER (ORDER BY i) AS before, lead(known) OVER (ORDER BY i) AS after FROM p
  ), k AS (FROM n WHERE known)
  FROM (
    SELECT i, 0 AS part, t AS instant, CASE WHEN a > 0 THEN 1 ELSE 0 END AS state FROM k WHERE before IS DISTINCT FROM true
    UNION ALL
    SELECT i, 1, t + (t1 - t) * (-a) / (b - a), CASE WHEN b > 0 THEN 1 ELSE 0 END FROM k WHERE (a > 0) <> (b > 0)
    UNION ALL
    SELECT i, 2, t1, -1 FROM k WHERE after IS DISTINCT FROM true)
  ORDER BY i, part`;

/** Figures of the episodes, from the pieces cut at their ends. */
export const episodesSql = (kind, mask, threshold) => `
  WITH inside AS (
    SELECT e.id, greatest(t, e.start) AS a, least(t1, e.end) AS b, t, t1, x, x1
    FROM episodes AS e JOIN ${kind}_cut ON t < e.end AND t1 > e.start AND (bits & ${mask}) = 0
  ), ends AS (
    SELECT id, b - a AS width, x + (x1 - x) * (a - t) / (t1 - t) AS y, CASE WHEN b = t1 THEN x1 ELSE x + (x1 - x) * (b - t) / (t1 - t) END AS y1
    FROM inside
  ), p AS (SELECT id, width, least(y, y1) AS low, greatest(y, y1) AS high FROM ends)
  SELECT id, max(high) AS highest, min(low) AS lowest, sum((low + high) / 2 * width) / sum(width) AS mean,
    sum(${areaAbove(threshold)})::DOUBLE AS dose
  FROM p GROUP BY id ORDER BY id`;

# x(t): linear between neighbouring samples at most max_gap apart, unknown elsewhere. Times in ms after a whole hour.

HOUR <- 3600000
MINUTE <- 60000

# Three times the median spacing; the rate is taken as steady. Shortest 2 s, longest 15 min.
max_gap <- function(t) min(15 * MINUTE, max(2000, 3 * median(diff(t))))

# First and last index of each run of true values.
runs <- function(holds) {
  change <- diff(c(FALSE, holds, FALSE))
  list(first = which(change == 1L), last = which(change == -1L) - 1L)
}

# Pieces that touch no sample of the spans (a list of first and last indices).
without <- function(known, spans) {
  marked <- logical(length(known) + 1L)
  for (one in spans) for (k in seq_along(one$first)) marked[one$first[k]:one$last[k]] <- TRUE
  n <- length(marked)
  known & !marked[-n] & !marked[-1L]
}

# Pieces cut at whole minutes, so that minutes, hours and nights are made of whole pieces. A piece longer than a minute
# is never known here, so one cut is enough.
cut_at_minutes <- function(t, x) {
  n <- length(t)
  t0 <- t[-n]
  t1 <- t[-1L]
  bound <- (floor(t0 / MINUTE) + 1) * MINUTE
  k <- which(bound < t1 & t1 - t0 <= MINUTE)
  from <- seq_len(n - 1L)
  if (length(k) > 0L) {
    middle <- x[k] + (x[k + 1L] - x[k]) * (bound[k] - t0[k]) / (t1[k] - t0[k])
    order <- order(c(seq_len(n), k + 0.5))
    t <- c(t, bound[k])[order]
    x <- c(x, middle)[order]
    from <- sort(c(from, k))
    n <- length(t)
  }
  a <- x[-n]
  b <- x[-1L]
  width <- diff(t)
  list(
    t = t, x = x, from = from, width = width, low = pmin.int(a, b), high = pmax.int(a, b),
    area = (a + b) / 2 * width, minute = as.integer(t[-n] %/% MINUTE) + 1L
  )
}

# Milliseconds of each piece over and under u, in [lo, hi) or [lo, hi], and the areas beyond u.
time_above <- function(p, u) {
  time <- p$width * (p$low >= u & p$high > u)
  k <- which(p$high > u & p$low < u)
  time[k] <- p$width[k] * (p$high[k] - u) / (p$high[k] - p$low[k])
  time
}

time_below <- function(p, u) {
  time <- p$width * (p$high <= u & p$low < u)
  k <- which(p$high > u & p$low < u)
  time[k] <- p$width[k] * (u - p$low[k]) / (p$high[k] - p$low[k])
  time
}

time_within <- function(p, lo, hi, closed) {
  time <- p$width - time_below(p, lo) - time_above(p, hi)
  if (!closed) time[p$low == hi & p$high == hi] <- 0
  time
}

area_above <- function(p, u) {
  area <- (p$area - u * p$width) * (p$low >= u)
  k <- which(p$high > u & p$low < u)
  area[k] <- (p$high[k] - u)^2 * p$width[k] / (2 * (p$high[k] - p$low[k]))
  area
}

area_below <- function(p, u) {
  area <- (u * p$width - p$area) * (p$high <= u)
  k <- which(p$high > u & p$low < u)
  area[k] <- (u - p$low[k])^2 * p$width[k] / (2 * (p$high[k] - p$low[k]))
  area
}

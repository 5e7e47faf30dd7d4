# The cleaning rules of the benchmark, on samples as they came: spans of first and last index.

equal_runs <- function(x, known) {
  n <- length(x)
  same <- x[-n] == x[-1L]
  found <- runs(known & same)
  keep <- found$last + 1L - found$first >= 3L
  first <- found$first[keep]
  last <- found$last[keep] + 1L
  pairs <- sum(known)
  different <- sum(known & !same)
  elsewhere <- pairs - (last - first)
  share <- ifelse(elsewhere > 0, different / elsewhere, 0)
  list(
    first = first, last = last, chance = (1 - share)^(last - first),
    has_lived = different >= max(5, pairs / 1000)
  )
}

# The highest value that the channel can show, where it stays at it and comes back; else NA.
ceiling_of <- function(t, x, found) {
  inside <- x[x >= -20 & x <= 150]
  if (length(inside) == 0L) return(NA_real_)
  highest <- max(inside)
  stays <- x[found$first] == highest & t[found$last] - t[found$first] >= 15000 & found$chance < 1e-6
  if (any(stays) && length(runs(x == highest)$first) >= 3L) highest else NA_real_
}

outside_range <- function(x, lowest, highest) runs(x < lowest | x > highest)

flatline <- function(t, x, known, is_icp) {
  found <- equal_runs(x, known)
  chance <- if (found$has_lived) found$chance else 0.9^(found$last - found$first)
  ceiling <- if (is_icp) ceiling_of(t, x, found) else NA_real_
  keep <- t[found$last] - t[found$first] >= 300000 & chance < 1e-6 & !(x[found$first] %in% ceiling)
  list(first = found$first[keep], last = found$last[keep])
}

negative <- function(t, x, known) {
  under <- which(x < 0)
  if (length(under) == 0L) return(list(first = integer(), last = integer()))
  holes <- c(0L, cumsum(!known))
  before <- under[-length(under)]
  after <- under[-1L]
  parted <- holes[before] != holes[after] | t[after - 1L] - t[before] > 30000
  first <- c(1L, which(parted) + 1L)
  last <- c(first[-1L] - 1L, length(under))
  count <- last - first + 1L
  first <- under[first]
  last <- under[last]
  keep <- t[last] - t[first] >= 300000 & count >= 0.8 * (last - first + 1L)
  list(first = first[keep], last = last[keep])
}

# Stretches longer than max_gap in which rows came, but with blanks.
blank_stretches <- function(t, blank_times, start, end, longest) {
  from <- c(start, t)
  to <- c(t, end)
  long <- to - from > longest
  from <- from[long]
  to <- to[long]
  has <- findInterval(to, blank_times) > findInterval(from, blank_times, left.open = TRUE)
  list(from = from[has], to = to[has])
}

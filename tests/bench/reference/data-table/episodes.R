# Episodes of a signal over a threshold, crossings exact.

THRESHOLD <- 22
SHORTEST <- 300000
DIP <- 30000
BRIDGE <- 120000
LEAST_KNOWN <- 0.5
LEAST_PAST <- 0.8
SLACK <- 1e-3
TOLERANCE <- 1

# Maximal stretches past the threshold (1), within it (0) and unknown (-1), in time order.
stretches <- function(t, x, known) {
  i <- which(known)
  a <- x[i] - THRESHOLD
  b <- x[i + 1L] - THRESHOLD
  cross <- (a > 0) != (b > 0)
  middle <- t[i + 1L]
  middle[cross] <- t[i][cross] + (t[i + 1L] - t[i])[cross] * (-a[cross]) / (b - a)[cross]
  start <- as.vector(rbind(t[i], middle))
  end <- as.vector(rbind(middle, t[i + 1L]))
  state <- as.integer(rbind(a > 0, b > 0))
  some <- start < end
  start <- start[some]
  end <- end[some]
  state <- state[some]
  n <- length(start)
  if (n == 0L) return(data.table(state = integer(), start = numeric(), end = numeric()))
  new <- c(TRUE, state[-1L] != state[-n] | start[-1L] > end[-n])
  first <- which(new)
  last <- c(first[-1L] - 1L, n)
  found <- data.table(state = state[first], start = start[first], end = end[last])
  hole <- which(found$start[-1L] > found$end[-nrow(found)])
  gaps <- data.table(state = rep(-1L, length(hole)), start = found$end[hole], end = found$start[hole + 1L])
  setorder(rbind(found, gaps), start)[]
}

# Stretches past the threshold, with what lies before each, and a number for those that belong together.
chains <- function(found) {
  length <- found$end - found$start
  past <- which(found$state == 1L)
  if (length(past) == 0L) return(data.table())
  within_so_far <- cumsum(length * (found$state == 0L))
  unknown_so_far <- cumsum(length * (found$state == -1L))
  count_within <- cumsum(found$state == 0L)
  within <- c(0, diff(within_so_far[past]))
  unknown <- c(0, diff(unknown_so_far[past]))
  only_unknown <- c(FALSE, diff(count_within[past]) == 0L)
  joined <- within + unknown <= DIP + TOLERANCE | (only_unknown & unknown <= BRIDGE + TOLERANCE)
  joined[1L] <- FALSE
  within[!joined] <- 0
  unknown[!joined] <- 0
  data.table(
    chain = cumsum(!joined), start = found$start[past], end = found$end[past], within = within, unknown = unknown
  )
}

# The longest part that is known and past the threshold enough, as first and last row; NULL without one.
longest_span <- function(chain) {
  past <- chain$end - chain$start
  gap_a <- -LEAST_PAST * chain$within
  gap_b <- chain$within - LEAST_KNOWN * (chain$within + chain$unknown)
  own_a <- past - LEAST_PAST * past
  own_b <- past - LEAST_KNOWN * past
  close_a <- cumsum(gap_a + own_a)
  close_b <- cumsum(gap_b + own_b)
  open_a <- close_a - own_a
  open_b <- close_b - own_b
  n <- nrow(chain)
  best <- NULL
  length <- -1
  for (i in seq_len(n)) {
    if (chain$end[n] - chain$start[i] <= length) break
    rest <- i:n
    good <- which(close_a[rest] + SLACK >= open_a[i] & close_b[rest] + SLACK >= open_b[i])
    if (length(good) == 0L) next
    j <- rest[good[length(good)]]
    if (chain$end[j] - chain$start[i] > length) {
      best <- c(i, j)
      length <- chain$end[j] - chain$start[i]
    }
  }
  best
}

solid_parts <- function(chain) {
  n <- nrow(chain)
  if (n == 0L || chain$end[n] - chain$start[1L] < SHORTEST - TOLERANCE) return(NULL)
  span <- longest_span(chain)
  if (is.null(span)) return(NULL)
  part <- data.table(start = chain$start[span[1L]], end = chain$end[span[2L]])
  if (part$end - part$start < SHORTEST - TOLERANCE) return(NULL)
  rbind(solid_parts(chain[seq_len(span[1L] - 1L)]), part, solid_parts(chain[seq_len(n) > span[2L]]))
}

# Start, end, whether it was past the threshold already when it came into view, and still when it left.
find_episodes <- function(t, x, known) {
  found <- stretches(t, x, known)
  linked <- chains(found)
  if (nrow(linked) == 0L) return(NULL)
  long <- found[state == -1L & end - start > BRIDGE + TOLERANCE]
  lengths <- linked[, .(length = end[.N] - start[1L]), by = chain]
  parts <- rbindlist(lapply(
    lengths[length >= SHORTEST - TOLERANCE, chain],
    function(number) solid_parts(linked[chain == number])
  ))
  if (nrow(parts) == 0L) return(NULL)
  parts[, open_start := start %in% c(found$start[1L], long$end)]
  parts[, open_end := end %in% c(found$end[nrow(found)], long$start)]
  parts[]
}

# Time-weighted medians of a piecewise linear signal.

# Time at each value that x takes, and how its density changes there, by hour of the clock.
value_table <- function(p, known) {
  k <- which(known)
  rise <- p$high[k] - p$low[k]
  flat <- rise <= 1e-7
  hour <- (p$minute[k] - 1L) %/% 60L + 1L
  density <- p$width[k] / rise
  events <- data.table(
    hour = c(hour[flat], hour[!flat], hour[!flat]),
    value = c(p$low[k][flat], p$low[k][!flat], p$high[k][!flat]),
    atom = c(p$width[k][flat], numeric(2L * sum(!flat))),
    slope = c(numeric(sum(flat)), density[!flat], -density[!flat])
  )
  events[, .(atom = sum(atom), slope = sum(slope)), by = .(hour, value)]
}

# The middle of the values of one window; `table` holds a row a value of its hours.
median_of <- function(table) {
  if (nrow(table) == 0L) return(NA_real_)
  table <- table[, .(atom = sum(atom), slope = sum(slope)), keyby = value]
  value <- table$value
  n <- length(value)
  density <- pmax(0, cumsum(table$slope))
  room <- density * c(diff(value), 0)
  at <- cumsum(table$atom) + c(0, cumsum(room)[-n])
  target <- at[n] / 2
  slack <- at[n] * 1e-12
  i <- which(at + slack >= target | at + room >= target)[1L]
  if (at[i] >= target + slack || i == n) return(value[i])
  if (at[i] + slack < target) return(value[i] + (target - at[i]) / density[i])
  # No time lies between this value and the next one: the gap is split.
  if (room[i] > slack) value[i] else (value[i] + value[i + 1L]) / 2
}

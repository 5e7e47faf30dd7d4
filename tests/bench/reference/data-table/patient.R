# All figures of one patient's export.

RANGES <- list(icp = c(-20, 150), map = c(0, 300))
REMOVED <- c("outsideRange", "disconnected", "flatline")
RULES <- c(REMOVED, "negative")

channel_of <- function(kind, times, cells, start, end) {
  blank <- is.na(cells)
  t <- times[!blank]
  x <- cells[!blank]
  gap <- max_gap(t)
  known <- diff(t) <= gap
  none <- list(first = integer(), last = integer())
  spans <- list(
    outsideRange = outside_range(x, RANGES[[kind]][1L], RANGES[[kind]][2L]),
    flatline = flatline(t, x, known, kind == "icp"),
    negative = if (kind == "icp") negative(t, x, known) else none
  )
  blanks <- blank_stretches(t, times[blank], start, end, gap)
  list(t = t, x = x, blank = blank, known = known, spans = spans, blanks = blanks)
}

known_with <- function(channel, rules) without(channel$known, channel$spans[intersect(rules, names(channel$spans))])

# CPP at every time of either channel, without the last bits that binary subtraction leaves.
cpp_of <- function(times, icp, map) {
  some <- !(icp$blank & map$blank)
  t <- times[some]
  at <- function(c) approx(c$t, c$x, t, rule = 2)$y
  piece <- function(c) head(cumsum(!c$blank)[some], -1L)
  list(t = t, x = round((at(map) - at(icp)) * 1e10) / 1e10, icp_at = piece(icp), map_at = piece(map))
}

known_cpp <- function(cpp, icp_known, map_known) {
  c(FALSE, icp_known, FALSE)[cpp$icp_at + 1L] & c(FALSE, map_known, FALSE)[cpp$map_at + 1L]
}

# Known pieces inside a window, the outer ones cut at its ends.
cut_to <- function(t, x, known, start, end) {
  a <- max(1L, findInterval(start, t))
  b <- findInterval(end, t, left.open = TRUE)
  k <- a:b
  k <- k[known[k]]
  t0 <- t[k]; t1 <- t[k + 1L]; x0 <- x[k]; x1 <- x[k + 1L]
  from <- pmax(t0, start)
  to <- pmin(t1, end)
  slope <- (x1 - x0) / (t1 - t0)
  list(t0 = from, x0 = x0 + slope * (from - t0), t1 = to, x1 = ifelse(to == t1, x1, x0 + slope * (to - t0)))
}

patient_figures <- function(path) {
  file <- file(path, "rb")
  digest <- paste(unclass(openssl::sha256(file)), collapse = "")
  close(file)
  rows <- fread(path, sep = ",", header = TRUE, colClasses = c("POSIXct", "numeric", "numeric"), tz = "UTC")
  setnames(rows, c("time", "icp", "map"))
  ms <- as.numeric(rows$time) * 1000
  # An hour before the first, so that windows may begin before the data.
  base <- ms[1L] %/% HOUR * HOUR - HOUR
  t <- ms - base
  start <- t[1L]
  end <- t[length(t)]
  hours_count <- end %/% HOUR + 2
  minutes_count <- hours_count * 60
  text <- function(t) format(.POSIXct(floor((t + base + 500) / 1000), tz = "UTC"), "%Y-%m-%dT%H:%M:%S+00:00")
  icp <- channel_of("icp", t, rows$icp, start, end)
  map <- channel_of("map", t, rows$map, start, end)
  cpp <- cpp_of(t, icp, map)
  pieces <- list(icp = cut_at_minutes(icp$t, icp$x), cpp = cut_at_minutes(cpp$t, cpp$x), map = cut_at_minutes(map$t, map$x))
  measures <- list(icp = icp_measures(pieces$icp), cpp = cpp_measures(pieces$cpp))
  mask <- function(rules) {
    i <- known_with(icp, rules)
    m <- known_with(map, rules)
    list(icp = i, map = m, cpp = known_cpp(cpp, i, m))
  }
  spread <- function(kind, known) known[pieces[[kind]]$from]
  minutes_of <- function(kind, known, names) sums_by(measures[[kind]][names], known, pieces[[kind]]$minute, minutes_count)

  # The period, its hours and the nights, all as sums of whole hours of the clock.
  day <- 24 * HOUR
  hour_from <- pmax(seq(1, hours_count - 1) * HOUR, start)
  hour_to <- pmin(seq(2, hours_count) * HOUR, end)
  days <- (base + start) %/% day + seq(-1, hours_count %/% 24 + 2)
  night_from <- days * day + 19 * HOUR - base
  night_to <- night_from + 12 * HOUR
  inside <- hour_from < hour_to
  nights <- night_from < end & start < night_to
  windows <- data.table(
    what = c("period", rep("hour", sum(inside)), rep("night", sum(nights))),
    start = c(start, hour_from[inside], night_from[nights]), end = c(end, hour_to[inside], night_to[nights])
  )
  headline <- mask(RULES)
  known <- list(
    icp = spread("icp", headline$icp), cpp = spread("cpp", headline$cpp), map = spread("map", headline$map)
  )
  minutes <- list(
    icp = minutes_of("icp", known$icp, names(measures$icp)), cpp = minutes_of("cpp", known$cpp, names(measures$cpp)),
    map = sums_by(list(width = pieces$map$width), known$map, pieces$map$minute, minutes_count)
  )
  hour_of_minute <- rep(seq_len(hours_count), each = 60L)
  by_hour <- lapply(minutes, rowsum, group = hour_of_minute)
  means <- lapply(minutes[c("icp", "cpp")], five_minute_means)
  values <- value_table(pieces$icp, known$icp)
  setkey(values, hour)
  shape <- function(w) {
    from <- windows$start[w]
    to <- windows$end[w]
    span <- seq(max(0, from) %/% HOUR + 1, min(ceiling(to / HOUR), hours_count))
    sums <- lapply(by_hour, function(m) colSums(m[span, , drop = FALSE]))
    median <- median_of(values[.(as.integer(span)), nomatch = NULL])
    list(
      start = text(from), end = text(to), monitoredHours = lapply(sums, function(s) s[["width"]] / HOUR),
      icp = icp_shape(sums$icp, median, best_in(means$icp, from, to, max)),
      cpp = cpp_shape(sums$cpp, best_in(means$cpp, from, to, min))
    )
  }
  shaped <- lapply(seq_len(nrow(windows)), shape)
  reading <- function(rules) {
    m <- mask(rules)
    i <- spread("icp", m$icp)
    c <- spread("cpp", m$cpp)
    sums <- list(icp = vapply(measures$icp, function(v) sum(v[i]), 0), cpp = vapply(measures$cpp, function(v) sum(v[c]), 0))
    mean5 <- list(
      icp = five_minute_means(minutes_of("icp", i, c("width", "area"))),
      cpp = five_minute_means(minutes_of("cpp", c, c("width", "area")))
    )
    list(
      icp = icp_shape(sums$icp, median_of(value_table(pieces$icp, i)), best_in(mean5$icp, start, end, max)),
      cpp = cpp_shape(sums$cpp, best_in(mean5$cpp, start, end, min))
    )
  }
  raw <- reading(character())
  other <- if (length(icp$spans$negative$first) > 0L) reading(REMOVED) else list(icp = NULL, cpp = NULL)

  # Episodes of ICP, cleaned.
  found <- find_episodes(icp$t, icp$x, headline$icp)
  episode_figures <- function(e) {
    p <- cut_to(icp$t, icp$x, headline$icp, found$start[e], found$end[e])
    q <- cut_to(cpp$t, cpp$x, headline$cpp, found$start[e], found$end[e])
    width <- p$t1 - p$t0
    low <- pmin(p$x0, p$x1) - THRESHOLD
    high <- pmax(p$x0, p$x1) - THRESHOLD
    over <- ifelse(low >= 0, (low + high) / 2 * width, pmax(high, 0)^2 * width / (2 * ifelse(high > low, high - low, 1)))
    list(
      start = text(found$start[e]), end = text(found$end[e]), minutes = (found$end[e] - found$start[e]) / MINUTE,
      highestMmHg = max(p$x0, p$x1), meanMmHg = sum((p$x0 + p$x1) / 2 * width) / sum(width),
      doseMmHgHours = sum(over) / HOUR, lowestCppMmHg = if (length(q$x0) > 0L) min(q$x0, q$x1) else NA_real_,
      openStart = found$open_start[e], openEnd = found$open_end[e]
    )
  }
  episodes <- lapply(seq_len(NROW(found)), episode_figures)
  for (w in seq_len(nrow(windows))) {
    here <- found$start < windows$end[w] & windows$start[w] < found$end
    shaped[[w]]$episodes <- sum(here)
    shaped[[w]]$longestEpisodeMinutes <- if (any(here)) max((found$end - found$start)[here]) / MINUTE else NA_real_
  }

  # What each rule took, each second for the first rule, and the burden with the rule left out.
  burden_without <- sapply(RULES, simplify = FALSE, function(rule) {
    m <- mask(setdiff(RULES, rule))
    i <- spread("icp", m$icp)
    c <- spread("cpp", m$cpp)
    list(
      icpHoursAboveThreshold = sum(measures$icp$hoursAboveThreshold[i]) / HOUR,
      icpDoseMmHgHours = sum(measures$icp$doseMmHgHours[i]) / HOUR,
      cppHoursBelowFloor = sum(measures$cpp$hoursBelowFloor[c]) / HOUR,
      cppDoseBelowFloorMmHgHours = sum(measures$cpp$doseBelowFloorMmHgHours[c]) / HOUR
    )
  })
  takes <- list()
  removed <- list()
  for (kind in c("icp", "map")) {
    channel <- if (kind == "icp") icp else map
    left <- channel$known
    width <- diff(channel$t)
    for (rule in RULES) {
      if (rule == "disconnected") {
        marks <- list(from = channel$blanks$from + 1, to = channel$blanks$to - 1)
        taken <- sum(marks$to - marks$from)
      } else {
        marks <- list(from = channel$t[channel$spans[[rule]]$first], to = channel$t[channel$spans[[rule]]$last])
        rest <- without(left, channel$spans[rule])
        taken <- sum(width[left & !rest])
        left <- rest
      }
      if (length(marks$from) == 0L) next
      takes <- c(takes, list(list(
        channel = kind, rule = rule, intervals = length(marks$from), hours = taken / HOUR, without = burden_without[[rule]]
      )))
      removed <- c(removed, Map(
        function(a, b) list(channel = kind, rule = rule, start = a, end = b), text(marks$from), text(marks$to)
      ))
    }
  }
  list(
    id = sub("\\.csv$", "", basename(path)), sha256 = digest, start = text(start), end = text(end),
    monitoredHours = shaped[[1L]]$monitoredHours, icp = shaped[[1L]]$icp, icpRaw = raw$icp, icpOtherWay = other$icp,
    cpp = shaped[[1L]]$cpp, cppRaw = raw$cpp, cppOtherWay = other$cpp, hours = shaped[windows$what == "hour"],
    nights = shaped[windows$what == "night"], episodes = episodes, removed = unname(removed), takes = takes
  )
}

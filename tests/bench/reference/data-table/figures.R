# Measures of pieces, and the figures of a window made of their sums.

FLOOR <- 60

icp_measures <- function(p) {
  list(
    width = p$width, area = p$area, hoursBelowBand = time_below(p, 5), hoursWithinBand = time_within(p, 5, 15, TRUE),
    hoursAboveBand = time_above(p, 15), hoursAboveThreshold = time_above(p, THRESHOLD),
    doseMmHgHours = area_above(p, THRESHOLD)
  )
}

cpp_measures <- function(p) {
  list(
    width = p$width, area = p$area, hoursBelowFloor = time_below(p, FLOOR), doseBelowFloorMmHgHours = area_below(p, FLOOR),
    band0 = time_below(p, 50), band1 = time_within(p, 50, 60, FALSE), band2 = time_within(p, 60, 70, TRUE),
    band3 = time_above(p, 70)
  )
}

# Sums of the measures over the known pieces of each cell (a minute or an hour), as a matrix with a row a cell.
sums_by <- function(measures, known, cell, cells) {
  k <- which(known)
  table <- setDT(lapply(measures, `[`, k))
  sums <- table[, lapply(.SD, sum), by = .(cell = cell[k])]
  all <- matrix(0, cells, length(measures), dimnames = list(NULL, names(measures)))
  all[sums$cell, ] <- as.matrix(sums[, -1L])
  all
}

# Mean of the 5 min from each minute on; NA where under half is known.
five_minute_means <- function(minutes) {
  area <- frollsum(minutes[, "area"], 5L, align = "left", algo = "exact")
  known <- frollsum(minutes[, "width"], 5L, align = "left", algo = "exact")
  ifelse(!is.na(known) & known >= 2.5 * MINUTE, area / known, NA_real_)
}

best_in <- function(means, start, end, pick) {
  first <- ceiling(max(start, 0) / MINUTE) + 1
  last <- min(end %/% MINUTE - 4, length(means))
  if (last < first) return(NA_real_)
  inside <- means[first:last]
  inside <- inside[!is.na(inside)]
  if (length(inside) == 0L) NA_real_ else pick(inside)
}

# The figures of one window in the form of results.json.
icp_shape <- function(sums, median, highest) {
  hours <- names(sums)[-(1:2)]
  figures <- as.list(sums[hours] / HOUR)
  figures$meanMmHg <- sums[["area"]] / sums[["width"]]
  figures$medianMmHg <- median
  figures$highest5MinMmHg <- highest
  if (sums[["width"]] == 0) lapply(figures, function(x) NA_real_) else figures
}

cpp_shape <- function(sums, lowest) {
  figures <- as.list(sums[c("hoursBelowFloor", "doseBelowFloorMmHgHours")] / HOUR)
  figures$meanMmHg <- sums[["area"]] / sums[["width"]]
  figures$lowest5MinMmHg <- lowest
  bands <- unname(sums[c("band0", "band1", "band2", "band3")] / HOUR)
  if (sums[["width"]] == 0) {
    figures <- lapply(figures, function(x) NA_real_)
    bands <- rep(NA_real_, 4L)
  }
  figures$bands <- I(bands)
  figures
}

# Group statistics of planting records, computed independently with data.table.
# Usage: Rscript compare-with-r.R records.csv figures.csv
# records.csv: pass, zone, unit, moment (integers), depth (mm), margin (N)
suppressPackageStartupMessages(library(data.table))
arguments <- commandArgs(trailingOnly = TRUE)
records <- as.data.table(read.csv(arguments[1]))

target <- 50.8
tolerance <- 6
band <- c(267, 712)
no_load <- 5 * 4.4482216152605 # 5 lbf

figures <- function(x, low, high) {
  q <- quantile(x, c(0.1, 0.5, 0.9), type = 7, names = FALSE)
  list(
    records = length(x), mean = mean(x), sd = sd(x),
    p10 = q[1], p50 = q[2], p90 = q[3], robustSd = mad(x),
    shareBelow = mean(x < low), shareAbove = mean(x > high), shareOutside = mean(x < low | x > high)
  )
}

# Spread along the row: half squared steps between successive records of one row unit on one pass, by the later record.
setorder(records, pass, unit, moment)
records[, step := depth - shift(depth), by = .(pass, unit)]

# Departure from the mean of the other units at the same moment.
departures <- function(value) {
  d <- records[, .(pass, zone, unit, moment, value = get(value))]
  d[, departure := value - (sum(value) - value) / (.N - 1), by = moment]
  d
}

# Mean departure with the passes as replicates.
of_unit <- function(d) {
  by_pass <- d[, .(sum = sum(departure), count = .N), by = pass]
  difference <- sum(by_pass$sum) / sum(by_pass$count)
  weight <- by_pass$count / sum(by_pass$count)
  passes <- nrow(by_pass)
  variance <- sum(weight^2 * (by_pass$sum / by_pass$count - difference)^2) * passes / (passes - 1)
  half <- qt(0.975, max(1, 1 / sum(weight^2) - 1)) * sqrt(variance)
  list(difference = difference, low = difference - half, high = difference + half)
}

rows <- list()
for (variable in c("depth", "margin")) {
  low <- if (variable == "depth") target - tolerance else band[1]
  high <- if (variable == "depth") target + tolerance else band[2]
  d <- departures(variable)
  groupings <- list(zone = "zone", pass = "pass", passzone = c("pass", "zone"), unit = "unit", unitzone = c("unit", "zone"))
  for (kind in names(groupings)) {
    by <- groupings[[kind]]
    table <- records[, c(
      figures(get(variable), low, high),
      list(
        spreadAlongRow = if (variable == "depth") sqrt(mean(0.5 * step^2, na.rm = TRUE)) else NA_real_,
        noLoadShare = if (variable == "margin") mean(margin <= no_load) else NA_real_
      )
    ), by = by]
    if (kind %in% c("unit", "unitzone")) {
      table <- merge(table, d[, of_unit(.SD), by = by], by = by)
    } else {
      table[, c("difference", "low", "high") := NA_real_]
    }
    if (kind == "pass") {
      total <- sum(table$records * table$mean)
      table[, difference := mean - (total - records * mean) / (sum(table$records) - records)]
    }
    for (key in setdiff(c("pass", "zone", "unit"), by)) table[, (key) := NA_integer_]
    table[, variable := variable]
    rows[[paste(variable, kind)]] <- table
  }
}
all <- rbindlist(rows, use.names = TRUE)
for (column in names(all)) if (is.double(all[[column]])) set(all, j = column, value = sprintf("%.17g", all[[column]]))
write.csv(all, arguments[2], row.names = FALSE, quote = FALSE)

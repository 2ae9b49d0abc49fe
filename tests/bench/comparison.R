# Reads a log and a soil map, reprojects and joins them, makes the same tables by pass, row unit and soil zone, and cells with their
# neighbours and local statistics, with sf, data.table and spdep; prints processor seconds by stage as JSON.
# Usage: Rscript comparison.R planting.shp soil.geojson results.csv
suppressPackageStartupMessages({
  library(sf)
  library(data.table)
  library(spdep)
})
setDTthreads(1)
sf_use_s2(FALSE)
arguments <- commandArgs(trailingOnly = TRUE)
seconds <- list()
stage <- function(name, work) {
  before <- proc.time()
  result <- work
  spent <- proc.time() - before
  seconds[[name]] <<- unname(spent["user.self"] + spent["sys.self"])
  invisible(result)
}

stage("read", {
  log <- st_read(arguments[1], quiet = TRUE)
  soil <- st_read(arguments[2], quiet = TRUE)[, "MUNAME"]
})
stage("reproject", {
  log <- st_transform(log, 32615)
  soil <- st_transform(soil, 32615)
})
stage("join", {
  zone <- soil$MUNAME[vapply(st_intersects(log, soil), function(found) found[1], 1L)]
})
variables <- c("SPEED_MPH", "DEPTH_IN", "MARGIN_LB", "DOWNF_LB", "POP_AC", "SINGUL", "MISS_PCT")
# The same tables as ours: figures, shares outside the target, spread of depth along the row, time without load, each row
# unit against the others at the same moment with the passes as replicates, each pass against the others of its zone.
targets <- list(DEPTH_IN = c(1.76, 2.24), MARGIN_LB = c(60, 160))
stage("group", {
  records <- as.data.table(st_drop_geometry(log))
  records[, zone := zone]
  setorder(records, PASS, ROW_UNIT, TIME)
  records[, moment := .GRP, by = .(PASS, TIME)]
  records[, step := DEPTH_IN - shift(DEPTH_IN), by = .(PASS, ROW_UNIT)]
  records[, gained := SPEED_MPH - shift(SPEED_MPH), by = .(PASS, ROW_UNIT)]
  figures <- function(x) {
    q <- quantile(x, c(0.1, 0.5, 0.9), type = 7, names = FALSE)
    list(records = length(x), mean = mean(x), sd = sd(x), p10 = q[1], p50 = q[2], p90 = q[3], robust = mad(x))
  }
  of_unit <- function(sums, counts) {
    difference <- sum(sums) / sum(counts)
    weight <- counts / sum(counts)
    passes <- length(sums)
    variance <- sum(weight^2 * (sums / counts - difference)^2) * passes / (passes - 1)
    half <- qt(0.975, max(1, 1 / sum(weight^2) - 1)) * sqrt(variance)
    list(difference = difference, low = difference - half, high = difference + half)
  }
  tables <- list()
  for (variable in c(variables, "gained")) {
    known <- if (variable == "gained") records[!is.na(gained)] else records
    known[, value := get(variable)]
    known[, departure := value - (sum(value) - value) / (.N - 1), by = moment]
    limits <- targets[[variable]]
    for (by in list("zone", "PASS", c("zone", "PASS"), "ROW_UNIT", c("zone", "ROW_UNIT"))) {
      table <- known[, c(
        figures(value),
        if (!is.null(limits)) list(below = mean(value < limits[1]), above = mean(value > limits[2])),
        if (variable == "DEPTH_IN") list(along = sqrt(mean(0.5 * step^2, na.rm = TRUE))),
        if (variable == "MARGIN_LB") list(noLoad = mean(value <= 5))
      ), by = by]
      if ("ROW_UNIT" %in% by) {
        passes <- known[, .(sum = sum(departure), count = .N), by = c(by, "PASS")]
        table <- merge(table, passes[, of_unit(sum, count), by = by], by = by)
      }
      if ("PASS" %in% by) {
        table[, total := sum(records * mean), by = setdiff(by, "PASS")]
        table[, difference := mean - (total - records * mean) / (sum(records) - records), by = setdiff(by, "PASS")]
      }
      tables[[paste(c(by, variable), collapse = " ")]] <- table
    }
  }
})
stage("cells", {
  xy <- st_coordinates(log)
  records[, `:=`(x = xy[, 1], y = xy[, 2])]
  records[, piece := floor((y - min(y)) / 12), by = PASS]
  cells <- records[, c(.(x = mean(x), y = mean(y), n = .N), lapply(.SD, mean)), by = .(PASS, piece), .SDcols = variables]
  most <- records[, .N, by = .(PASS, piece, zone)][order(-N), .(zone = zone[1]), by = .(PASS, piece)]
  cells <- merge(cells, most, by = c("PASS", "piece"))
  near <- dnearneigh(as.matrix(cells[, .(x, y)]), 0, 1.3 * 24 * 0.762)
  weights <- nb2listw(include.self(near), style = "B", zero.policy = TRUE)
  local <- localG(cells$DEPTH_IN, weights, zero.policy = TRUE)
  moran <- localmoran(cells$DEPTH_IN, nb2listw(near, style = "W", zero.policy = TRUE), zero.policy = TRUE)
})
written <- rbindlist(lapply(variables, function(name) {
  table <- tables[[paste("zone", "PASS", name)]]
  table[!is.na(zone), .(PASS, zone = sub(",", ";", zone, fixed = TRUE), name, records, mean, sd, p10, p50, p90)]
}))
options(digits = 17)
fwrite(written, arguments[3], col.names = FALSE)
figures <- paste(sprintf('"%s":%.3f', names(seconds), unlist(seconds)), collapse = ",")
cat(sprintf("{%s}\n", figures))

# Reads a log and a soil map, reprojects and joins them, groups by pass, row unit and soil zone, and builds cells with their
# neighbours and local statistics, with sf, data.table and spdep; prints processor seconds by stage as JSON.
# Usage: Rscript comparison.R planting.shp soil.geojson
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
variables <- c("SPEED_MPH", "DEPTH_IN", "MARGIN_LB", "POP_AC", "SINGUL", "MISS_PCT")
stage("group", {
  records <- as.data.table(st_drop_geometry(log))
  records[, zone := zone]
  figures <- function(x) {
    q <- quantile(x, c(0.1, 0.5, 0.9), type = 7, names = FALSE)
    list(records = length(x), mean = mean(x), sd = sd(x), p10 = q[1], p50 = q[2], p90 = q[3], robust = mad(x))
  }
  tables <- list()
  for (by in list("zone", "PASS", c("zone", "PASS"), "ROW_UNIT", c("zone", "ROW_UNIT"))) {
    for (variable in variables) {
      tables[[paste(c(by, variable), collapse = " ")]] <- records[, figures(get(variable)), by = by]
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
figures <- paste(sprintf('"%s":%.3f', names(seconds), unlist(seconds)), collapse = ",")
cat(sprintf('{%s,"counts":{"records":%d,"tables":%d,"cells":%d}}\n', figures, nrow(records), length(tables), nrow(cells)))

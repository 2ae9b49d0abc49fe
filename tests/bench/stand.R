# A surface of the stand through counts: a smooth with mgcv, and a variogram with kriging by 50 neighbours with gstat, put on a
# grid of 10,000 places. Prints processor seconds as JSON; null for a package that is not installed.
# Usage: Rscript stand.R counts.csv
counts <- read.csv(commandArgs(trailingOnly = TRUE)[1])
counts$x <- (counts$lon - mean(counts$lon)) * 82500
counts$y <- (counts$lat - mean(counts$lat)) * 111075
counts$stand <- counts$plants
grid <- expand.grid(
  x = seq(min(counts$x), max(counts$x), length.out = 100),
  y = seq(min(counts$y), max(counts$y), length.out = 100)
)
spent <- function(work) {
  before <- proc.time()
  work()
  used <- proc.time() - before
  sprintf("%.2f", unname(used["user.self"] + used["sys.self"]))
}
has <- function(package) suppressPackageStartupMessages(requireNamespace(package, quietly = TRUE))
smooth <- function() {
  fit <- mgcv::bam(stand ~ s(x, y, k = min(200, nrow(counts) %/% 2)), data = counts, discrete = FALSE)
  predict(fit, grid)
}
kriged <- function() {
  places <- sf::st_as_sf(counts, coords = c("x", "y"))
  own <- gstat::variogram(stand ~ 1, places)
  model <- suppressWarnings(gstat::fit.variogram(own, gstat::vgm("Exp")))
  gstat::krige(stand ~ 1, places, sf::st_as_sf(grid, coords = c("x", "y")), model, nmax = 50, debug.level = 0)
}
cat(sprintf(
  '{"mgcv":%s,"gstat":%s}\n',
  if (has("mgcv")) spent(smooth) else "null",
  if (has("gstat") && has("sf")) spent(kriged) else "null"
))

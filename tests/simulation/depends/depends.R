# Whether R finds that what a pause does depends on water temperature, in the 60 logbooks of logbooks.ts. Usage: Rscript depends.R
# logbooks.csv > recorded.json. The model that the logbooks were drawn from: glmmTMB, negative binomial (nbinom2) with an intercept a
# trip, Laplace; light, angler, spot, first in the stop or not, water temperature and its square, cosine and sine of the tide, seconds of
# pause, offset log hours; with and without pause times water temperature, one likelihood-ratio test on 1 degree of freedom.
suppressPackageStartupMessages({ library(jsonlite); library(glmmTMB) })
path <- commandArgs(TRUE)[1]
sha <- strsplit(system(paste("sha256sum", path), intern = TRUE), " ")[[1]][1]
d <- read.csv(path)
one <- function(k) {
  x <- droplevels(d[d$logbook == k, ])
  x$trip <- factor(x$trip); x$first <- x$order_in_stop == 1; x$w <- x$water_temp_c - 20
  without <- fish ~ light + angler + spot + first + pause_s + w + I(w^2) + cos(tide_phase_rad) + sin(tide_phase_rad) + offset(log(hours)) + (1 | trip)
  m <- suppressWarnings(glmmTMB(update(without, . ~ . + pause_s:w), x, family = nbinom2))
  n <- suppressWarnings(glmmTMB(without, x, family = nbinom2))
  list(logbook = k, p = pchisq(2 * as.numeric(logLik(m) - logLik(n)), 1, lower.tail = FALSE))
}
out <- lapply(sort(unique(d$logbook)), one)
cat(toJSON(list(r = as.character(getRversion()), glmmTMB = as.character(packageVersion("glmmTMB")), sha256 = sha, logbooks = out), auto_unbox = TRUE, digits = 10), "\n")

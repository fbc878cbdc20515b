# R's own fits of the 60 logbooks of logbooks.ts. Usage: Rscript light.R logbooks.csv > recorded.json
# The model that the logbooks were drawn from: glmmTMB, negative binomial (nbinom2) with an intercept a trip, Laplace; light, angler,
# spot, first in the stop or not, water temperature and its square, cosine and sine of the tide, offset log hours. Of light its log
# ratio, first light over day, with Wald's z; and the likelihood-ratio test of light. Within trips: glm, quasi-Poisson with an effect
# a trip and the same terms but water temperature, t on the residual degrees of freedom.
suppressPackageStartupMessages({ library(jsonlite); library(glmmTMB) })
path <- commandArgs(TRUE)[1]
sha <- strsplit(system(paste("sha256sum", path), intern = TRUE), " ")[[1]][1]
d <- read.csv(path)
one <- function(k) {
  x <- droplevels(d[d$logbook == k, ])
  x$trip <- factor(x$trip); x$first <- x$order_in_stop == 1; x$dawn <- as.numeric(x$light == "first light"); x$w <- x$water_temp_c - 20
  full <- fish ~ dawn + angler + spot + first + w + I(w^2) + cos(tide_phase_rad) + sin(tide_phase_rad) + offset(log(hours)) + (1 | trip)
  m <- suppressWarnings(glmmTMB(full, x, family = nbinom2))
  n <- suppressWarnings(glmmTMB(update(full, . ~ . - dawn), x, family = nbinom2))
  a <- summary(m)$coefficients$cond["dawn", ]
  q <- glm(fish ~ dawn + spot + first + cos(tide_phase_rad) + sin(tide_phase_rad) + trip + offset(log(hours)), quasipoisson, x)
  s <- summary(q)$coefficients["dawn", ]
  list(logbook = k, log_likelihood = as.numeric(logLik(m)), log_ratio = a[[1]], se = a[[2]], p = a[[4]],
       p_likelihood_ratio = pchisq(2 * as.numeric(logLik(m) - logLik(n)), 1, lower.tail = FALSE),
       within = list(log_ratio = s[[1]], se = s[[2]], p = s[[4]]))
}
out <- lapply(sort(unique(d$logbook)), one)
cat(toJSON(list(r = as.character(getRversion()), glmmTMB = as.character(packageVersion("glmmTMB")), sha256 = sha, logbooks = out), auto_unbox = TRUE, digits = 10, pretty = FALSE), "\n")

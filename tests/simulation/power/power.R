# R's own fits of the 200 logbooks of logbooks.ts. Usage: Rscript power.R logbooks.csv > recorded.json
# Adjusted: glmmTMB, negative binomial (nbinom2) with an intercept a trip, Laplace; Wald z. Same trip: glm, quasi-Poisson with an
# effect a trip, t on the residual degrees of freedom. Of each the log ratios a over b and a over c, with p.
suppressPackageStartupMessages({ library(jsonlite); library(glmmTMB) })
path <- commandArgs(TRUE)[1]
sha <- strsplit(system(paste("sha256sum", path), intern = TRUE), " ")[[1]][1]
d <- read.csv(path)
d$trip <- factor(d$trip)
answer <- function(e, p) list(ab = list(log_ratio = -e[1], p = p[1]), ac = list(log_ratio = -e[2], p = p[2]))
one <- function(k) {
  x <- droplevels(d[d$logbook == k, ])
  x$level <- factor(x$level, levels = c("a", "b", "c"))
  m <- suppressWarnings(glmmTMB(events ~ level + offset(log(hours)) + (1 | trip), x, family = nbinom2))
  a <- summary(m)$coefficients$cond[2:3, ]
  q <- glm(events ~ level + trip + offset(log(hours)), quasipoisson, x)
  s <- summary(q)$coefficients[2:3, ]
  list(logbook = k, log_likelihood = as.numeric(logLik(m)), sd = as.numeric(attr(VarCorr(m)$cond$trip, "stddev")), theta = sigma(m),
       adjusted = answer(a[, 1], a[, 4]), same_trip = answer(s[, 1], s[, 4]))
}
out <- lapply(sort(unique(d$logbook)), one)
cat(toJSON(list(r = as.character(getRversion()), glmmTMB = as.character(packageVersion("glmmTMB")), sha256 = sha, logbooks = out), auto_unbox = TRUE, digits = 10, pretty = FALSE), "\n")

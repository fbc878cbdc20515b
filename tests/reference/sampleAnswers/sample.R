# The sample logbook's adjusted ratios and intervals, from the same model built in R out of the same stints. Usage:
#   Rscript sample.R sample.csv > recorded.json
# The model is written out below from R's own functions (dnbinom, optim, cos, ifelse): negative binomial counts (NB2, log link, log
# rod-hours as offset) with a normal intercept a trip, integrated by adaptive Gauss-Hermite quadrature with 15 nodes; glmmTMB's
# Laplace fit of the same formula is where it starts, and is recorded beside it. Intervals: t on trips less columns that are constant
# within trips, from the inverse of the observed information. Same trip: glm, Poisson, an effect a trip, ratios only.
suppressPackageStartupMessages({ library(jsonlite); library(glmmTMB) })
path <- commandArgs(TRUE)[1]
sha <- strsplit(system(paste("sha256sum", path), intern = TRUE), " ")[[1]][1]
all <- read.csv(path, na.strings = "", stringsAsFactors = FALSE)

lumped <- function(x, trip, least = 5) {
  n <- tapply(trip, x, function(t) length(unique(t)))
  ifelse(n[x] >= least, x, "other")
}
spline <- function(x, knots) { # the truncated powers of Hastie, Tibshirani & Friedman (2009) 5.2.1, on 0 to 1
  s <- (x - knots[1]) / (knots[length(knots)] - knots[1]); k <- (knots - knots[1]) / (knots[length(knots)] - knots[1])
  d <- function(j) (pmax(0, s - k[j])^3 - pmax(0, s - 1)^3) / (1 - k[j])
  last <- length(k) - 1
  cbind(s, sapply(seq_len(last - 1), function(j) d(j) - d(last)))
}

source("tests/reference/quadrature.R")

answer <- function(outcome, order_cut = NULL) {
  d <- all[all$complete == 1 & !is.na(all$hours) & all$hours > 0 & !is.na(all[[outcome]]) & !is.na(all$lure_class), ]
  d$y <- d[[outcome]]
  d$angler[is.na(d$angler) & d$rods > 1] <- "several rods"
  known <- !is.na(d$day_of_year) & !is.na(d$light) & !is.na(d$tide_phase_rad) & !is.na(d$water_temp_c) & !is.na(d$angler) & !is.na(d$order_in_stop)
  # levels and knots by the stints known when each is taken up: season, light, tide, water temperature, angler, order
  taken <- rep(TRUE, nrow(d))
  light <- rep(NA_character_, nrow(d)); angler <- light; order <- light
  taken <- taken & !is.na(d$day_of_year)
  light[taken & !is.na(d$light)] <- lumped(d$light[taken & !is.na(d$light)], d$trip[taken & !is.na(d$light)])
  taken <- taken & !is.na(d$light) & !is.na(d$tide_phase_rad)
  knots <- unique(c(min(d$water_temp_c[taken], na.rm = TRUE), quantile(d$water_temp_c[taken], 1:2 / 3, type = 7, na.rm = TRUE), max(d$water_temp_c[taken], na.rm = TRUE)))
  taken <- taken & !is.na(d$water_temp_c)
  has <- taken & !is.na(d$angler)
  angler[has] <- lumped(d$angler[has], d$trip[has])
  has <- has & !is.na(d$order_in_stop)
  cuts <- c(-Inf, 2, 3, 5, Inf)
  order[has] <- lumped(as.character(cut(d$order_in_stop[has], cuts, right = FALSE)), d$trip[has])
  d$light <- light; d$angler <- angler; d$order <- order
  d <- d[known, ]
  turn <- 2 * pi * d$day_of_year / 365.25
  x <- model.matrix(~ lure_class + light + angler + order, d)
  x <- cbind(x, cos(turn), sin(turn), cos(d$tide_phase_rad), sin(d$tide_phase_rad), cos(2 * d$tide_phase_rad), sin(2 * d$tide_phase_rad), spline(d$water_temp_c, knots))
  x <- x[, qr(x)$pivot[seq_len(qr(x)$rank)]]
  g <- as.integer(factor(d$trip)); G <- max(g)
  o <- log(d$hours)
  frame <- data.frame(y = d$y, o = o, trip = factor(g)); frame$x <- x[, -1]
  m <- suppressWarnings(glmmTMB(y ~ x + offset(o) + (1 | trip), frame, family = nbinom2))
  laplace <- fixef(m)$cond
  start <- c(laplace, log(attr(VarCorr(m)$cond$trip, "stddev")), log(sigma(m)))
  f <- function(par) -marginal(par, x, d$y, o, g, G)
  modes <<- NULL
  fit <- optim(start, f, method = "BFGS", control = list(maxit = 500, reltol = 1e-14))
  v <- solve(optimHess(fit$par, f, control = list(ndeps = rep(1e-4, length(fit$par)))))
  constant <- apply(x, 2, function(column) all(tapply(column, g, function(z) diff(range(z))) < 1e-9))
  df <- G - sum(constant)
  at <- grep("^lure_class", colnames(x)); names <- sub("^lure_class", "", colnames(x)[at])
  base <- setdiff(unique(d$lure_class), names)
  pairs <- list()
  level <- c(base, names)
  for (i in seq_along(level)) for (j in seq_len(i - 1)) {
    l <- rep(0, ncol(x))
    if (i > 1) l[at[i - 1]] <- 1
    if (j > 1) l[at[j - 1]] <- -1
    est <- sum(l * fit$par[seq_len(ncol(x))]); se <- sqrt(as.numeric(t(l) %*% v[seq_len(ncol(x)), seq_len(ncol(x))] %*% l))
    pairs[[length(pairs) + 1]] <- list(a = level[i], b = level[j], ratio = exp(est), low = exp(est - qt(.975, df) * se), high = exp(est + qt(.975, df) * se), laplace = exp(sum(l * laplace)))
  }
  list(outcome = outcome, stints = nrow(d), trips = G, columns = ncol(x), df = df, log_likelihood = -fit$value, sd = exp(fit$par[ncol(x) + 1]), theta = exp(fit$par[ncol(x) + 2]), pairs = pairs)
}
out <- list(r = as.character(getRversion()), glmmTMB = as.character(packageVersion("glmmTMB")), sha256 = sha, answers = list(answer("landed"), answer("strikes")))
cat(toJSON(out, auto_unbox = TRUE, digits = 10, pretty = TRUE), "\n")

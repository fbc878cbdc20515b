# Times the R fits that the product must stand beside. Usage: Rscript bench.R stints.csv [repeats=3] [methods=glm,glm.logistic,glm.nb,glmmTMB]
# CSV columns as in make-bench-csv.R. Default methods: glm (Poisson, no trips), glm.logistic (any fish, no offset), glm.nb (NB2, no trips), glmmTMB (NB2, trip intercept, Laplace).
# On request, comma separated: conditional (Poisson, trips held, gnm), glmer1, glmer15 (Poisson, trip intercept, Laplace or 15 nodes; minutes to hours at 20,000).
# Model for all, 16 columns: intercept; lure (treatment, first level "jig", 7 columns); natural cubic splines of water_c and of pause_s, 3 df each (interior knots at the
# type-7 quantiles 1/3 and 2/3 of the stints, boundary knots at min and max; R's ns basis, first column left out with the intercept); cos and sin of tide_phase
# (0 = low water, pi = high); offset log(rod_hours). The design matrix is built once, outside the timings.
# Prints one JSON object; under timings, a method: seconds (median wall time), seconds_min, log_likelihood, theta, sd (of the trip intercept, log scale), coefficients.
suppressPackageStartupMessages({library(jsonlite); library(MASS); library(splines)})
a <- commandArgs(TRUE); d <- read.csv(a[1]); reps <- if (length(a) > 1) as.integer(a[2]) else 3L; want <- if (length(a) > 2) strsplit(a[3], ",")[[1]] else c("glm", "glm.logistic", "glm.nb", "glmmTMB")
pk <- c("MASS", "glmmTMB", if (any(grepl("glmer", want))) "lme4", if ("conditional" %in% want) "gnm"); for (p in pk) suppressPackageStartupMessages(library(p, character.only = TRUE))
d$lure <- factor(d$lure, levels = c("jig", "cork", "twitch", "sinktwitch", "walker", "popper", "prop", "spoon")); d$trip <- factor(d$trip); d$lh <- log(d$rod_hours)
kn <- function(x) unname(quantile(x, c(1, 2) / 3)); sp <- function(x) { b <- ns(x, knots = kn(x), Boundary.knots = range(x)); matrix(as.vector(b), nrow(b)) }
X <- cbind(model.matrix(~ lure, d), sp(d$water_c), sp(d$pause_s), cos(d$tide_phase), sin(d$tide_phase)); colnames(X) <- c("intercept", levels(d$lure)[-1], paste0("water", 1:3), paste0("pause", 1:3), "tide_cos", "tide_sin"); attr(X, "assign") <- attr(X, "contrasts") <- NULL
time <- function(f) { t <- numeric(reps); for (i in seq_len(reps)) t[i] <- system.time(v <- suppressMessages(suppressWarnings(f())), gcFirst = TRUE)[["elapsed"]]; list(seconds = median(t), seconds_min = min(t), value = v) }
cl <- function(b, nmz = colnames(X)) as.list(setNames(signif(unname(b), 10), nmz)); out <- list()
r <- function(n, f, get) if (n %in% want) { z <- time(f); out[[n]] <<- c(list(seconds = z$seconds, seconds_min = z$seconds_min), get(z$value)) }
r("glm", function() glm.fit(X, d$fish, offset = d$lh, family = poisson()), function(m) list(log_likelihood = sum(dpois(d$fish, m$fitted.values, log = TRUE)), theta = NULL, sd = NULL, coefficients = cl(m$coefficients)))
r("glm.logistic", function() glm.fit(X, as.numeric(d$fish > 0), family = binomial()), function(m) list(log_likelihood = -m$deviance / 2, theta = NULL, sd = NULL, coefficients = cl(m$coefficients)))
r("glm.nb", function() glm.nb(fish ~ X - 1 + offset(lh), d), function(m) list(log_likelihood = as.numeric(logLik(m)), theta = m$theta, sd = NULL, coefficients = cl(coef(m))))
r("glmmTMB", function() glmmTMB(fish ~ X - 1 + (1 | trip) + offset(lh), d, family = nbinom2), function(m) list(log_likelihood = as.numeric(logLik(m)), theta = sigma(m), sd = as.numeric(attr(VarCorr(m)$cond$trip, "stddev")), converged = m$fit$convergence == 0, coefficients = cl(fixef(m)$cond)))
r("conditional", function() { k <- ave(d$fish, d$trip, FUN = sum) > 0; gnm::gnm(fish ~ X[, -1] + offset(lh), eliminate = trip, family = poisson, data = d, subset = k, verbose = FALSE) }, function(m) list(deviance = m$deviance, theta = NULL, sd = NULL, coefficients = cl(coef(m), colnames(X)[-1])))
gm <- function(k) function() glmer(fish ~ X - 1 + (1 | trip) + offset(lh), d, poisson, nAGQ = k); gg <- function(m) list(log_likelihood_as_reported = as.numeric(logLik(m)), theta = NULL, sd = getME(m, "theta")[[1]], coefficients = cl(fixef(m)))
r("glmer1", gm(1), gg); r("glmer15", gm(15), gg)
cat(toJSON(list(r = as.character(getRversion()), packages = as.list(vapply(pk, function(p) as.character(packageVersion(p)), "")), file = basename(a[1]), rows = nrow(d), trips = nlevels(d$trip), columns = ncol(X), repeats = reps, blank_share = mean(d$fish == 0), tide_zero = "low water", splines = list(water_c = list(knots = kn(d$water_c), boundary = range(d$water_c)), pause_s = list(knots = kn(d$pause_s), boundary = range(d$pause_s))), timings = out), auto_unbox = TRUE, digits = 10, pretty = TRUE, null = "null"), "\n")

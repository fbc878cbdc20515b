# Adjusted ratios and intervals of the real creel table, from the same model built in R out of the file itself. Usage, in the
# project's folder: Rscript tests/reference/kokaneeAnswers/kokanee.R > tests/reference/kokaneeAnswers/recorded.json
# Data, licence and columns: tests/data/kokanee-creel-2014/SOURCE.md. A trip is a survey day, a stint an interview. Negative binomial
# counts with log rod-hours as offset and a normal intercept a day, by quadrature (quadrature.R) from glmmTMB's Laplace fit, which is
# recorded beside; with nothing else held alike, and with season as a cosine and a sine of the day of the year. Intervals: t on days
# less columns constant within days, from the inverse of the observed information. Same day: glm, Poisson, an effect a day; ratios only.
suppressPackageStartupMessages({ library(jsonlite); library(glmmTMB) })
source("tests/reference/quadrature.R")
d <- read.csv("tests/data/kokanee-creel-2014/interviews.csv", sep = ";", check.names = FALSE, stringsAsFactors = FALSE)
d <- d[!is.na(d$Gear) & d$Gear != "", ]
d$date <- as.Date(paste(d$Year, match(d$Month, month.abb), d$Day, sep = "-"))
g <- as.integer(factor(d$date)); G <- max(g); o <- log(d$RodHours)
gear <- c("Lures", "Both", "Flies", "Bait"); d$gear <- factor(d$Gear, gear)
turn <- 2 * pi * as.integer(format(d$date, "%j")) / 365.25

answer <- function(name, y, season) {
  x <- model.matrix(~ gear, d)
  if (season) x <- cbind(x, cos(turn), sin(turn))
  frame <- data.frame(y = y, o = o, day = factor(g)); frame$x <- x[, -1]
  m <- suppressWarnings(glmmTMB(y ~ x + offset(o) + (1 | day), frame, family = nbinom2))
  laplace <- fixef(m)$cond
  f <- function(par) -marginal(par, x, y, o, g, G)
  modes <<- NULL
  fit <- optim(c(laplace, log(attr(VarCorr(m)$cond$day, "stddev")), log(sigma(m))), f, method = "BFGS", control = list(maxit = 500, reltol = 1e-15))
  v <- solve(optimHess(fit$par, f, control = list(ndeps = rep(1e-4, length(fit$par)))))
  constant <- apply(x, 2, function(column) all(tapply(column, g, function(z) diff(range(z))) < 1e-9))
  df <- G - sum(constant)
  within <- coef(glm(y ~ 0 + factor(g) + x[, -1] + offset(o), family = poisson))
  within <- within[grep("gear", names(within))]
  pairs <- list()
  for (i in 2:4) for (j in 1:(i - 1)) {
    l <- rep(0, ncol(x)); l[i] <- 1; if (j > 1) l[j] <- -1
    est <- sum(l * fit$par[seq_len(ncol(x))]); se <- sqrt(as.numeric(t(l) %*% v[seq_len(ncol(x)), seq_len(ncol(x))] %*% l))
    pairs[[length(pairs) + 1]] <- list(a = gear[i], b = gear[j], ratio = exp(est), low = exp(est - qt(.975, df) * se),
      high = exp(est + qt(.975, df) * se), laplace = exp(sum(l * laplace)),
      same_trip = exp(within[[i - 1]] - if (j > 1) within[[j - 1]] else 0))
  }
  list(species = name, season = season, stints = nrow(d), days = G, df = df, log_likelihood = -fit$value,
       sd = exp(fit$par[ncol(x) + 1]), theta = exp(fit$par[ncol(x) + 2]), pairs = pairs)
}
answers <- list(answer("all", d$TotalCaught, FALSE), answer("all", d$TotalCaught, TRUE), answer("kokanee", d$KOCatch, FALSE))
cat(toJSON(list(r = as.character(getRversion()), glmmTMB = as.character(packageVersion("glmmTMB")), answers = answers),
           auto_unbox = TRUE, digits = 10, pretty = TRUE), "\n")

# Bias-reduced contrasts of separated shares that come in clusters, from base R alone. Usage, in the project's folder:
#   Rscript tests/reference/biasReduced/cbpp.R > tests/reference/biasReduced/recorded.json
# Data: cattle that fell ill, by herd and period (cbpp of the R package lme4; Lesnoff et al. (2004) Preventive Veterinary Medicine
# 64:209-223), the herds none of whose cattle fell ill in the fourth period. The model, written out below: log-likelihood plus half
# the log determinant of the expected information (Firth 1993; Jeffreys' penalty), maximised by optim and nlm to rounding; ends by
# uniroot with everything else maximised again; jackknife by fits without each herd.
suppressPackageStartupMessages(library(jsonlite))
d <- read.csv("tests/reference/cases/stats/05-cbpp.csv")
d$period <- factor(d$period)
ill <- tapply(ifelse(d$period == 4, d$incidence, 0), d$herd, sum)
seen <- tapply(d$period == 4, d$herd, any)
d <- d[d$herd %in% names(ill)[ill == 0 & seen], ]
x <- model.matrix(~ period, d); y <- d$incidence; m <- d$size

penalised <- function(b, x, y, m, link) {
  eta <- as.vector(x %*% b)
  if (link == "logit") { p <- plogis(eta); w <- m * p * (1 - p) }
  else { e <- exp(eta); p <- -expm1(-e); w <- m * e^2 / expm1(e) }
  info <- determinant(crossprod(x, w * x), logarithm = TRUE)$modulus[1]
  sum(dbinom(y, m, p, log = TRUE)) + info / 2
}
best <- function(f, start) {
  if (length(start) == 1) {
    o <- optimise(function(v) f(v), start + c(-15, 15), maximum = TRUE, tol = 1e-12)
    return(list(b = o$maximum, value = o$objective))
  }
  b <- start
  for (k in 1:6) b <- optim(b, f, method = if (k %% 2) "Nelder-Mead" else "BFGS", control = list(fnscale = -1, reltol = 1e-16, maxit = 5000))$par
  b <- suppressWarnings(nlm(function(v) -f(v), b, gradtol = 1e-12, steptol = 1e-14)$estimate)
  list(b = b, value = f(b))
}
# the contrast of period 4 with period 2 as a coefficient of its own
turned <- model.matrix(~ period, transform(d, period = relevel(period, "2")))
at <- which(colnames(turned) == "period4")
answer <- function(link) {
  f <- function(b) penalised(b, turned, y, m, link)
  fit <- best(f, c(-1, 0, 0, -2))
  near <- fit$b[-at]
  held <- function(v) {
    g <- function(rest) { b <- numeric(4); b[at] <- v; b[-at] <- rest; f(b) }
    o <- best(g, near); near <<- o$b; o$value
  }
  end <- function(cut, side) {
    h <- function(v) 2 * (fit$value - held(v)) - cut
    far <- fit$b[at] + side; while (h(far) < 0) far <- far + side
    uniroot(h, sort(c(far, far - side)), tol = 1e-9)$root
  }
  herds <- unique(d$herd); G <- length(herds); df <- G - 1 # the intercept alone is constant within herds
  cut <- qt(.975, df)^2
  changes <- sapply(herds, function(h) {
    k <- d$herd != h
    best(function(b) penalised(b, turned[k, ], y[k], m[k], link), fit$b)$b[at] - fit$b[at]
  })
  list(link = link, herds = G, df = df, estimate = fit$b[at], penalised_log_likelihood = fit$value,
       low = end(cut, -1), high = end(cut, 1), most = end(max(cut, -2 * log(.025)), 1),
       p = pf(2 * (fit$value - held(0)), 1, df, lower.tail = FALSE),
       jackknife_se = sqrt((G - 1) / G * sum(changes^2)))
}
cat(toJSON(list(r = R.version.string, rows = data.frame(herd = d$herd, period = as.integer(as.character(d$period)), y = y, m = m),
                answers = list(answer("logit"), answer("cloglog"))), auto_unbox = TRUE, digits = 12, pretty = TRUE))

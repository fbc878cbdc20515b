# The log-likelihood of a negative binomial model (NB2, log link) with a normal intercept a cluster, by adaptive Gauss-Hermite
# quadrature with 15 nodes, from R's own functions. `par`: coefficients, log sd, log theta; `g` numbers the clusters from 1 to G.
hermite <- function(n) { # Golub & Welsch (1969)
  j <- diag(0, n); b <- sqrt(seq_len(n - 1) / 2)
  j[cbind(1:(n - 1), 2:n)] <- b; j[cbind(2:n, 1:(n - 1))] <- b
  e <- eigen(j, symmetric = TRUE)
  list(x = e$values, logw = log(sqrt(pi) * e$vectors[1, ]^2))
}
gh <- hermite(15)

modes <- NULL # of the trips' intercepts, where the last evaluation found them
marginal <- function(par, x, y, o, g, G) {
  p <- ncol(x); s <- exp(par[p + 1]); theta <- exp(par[p + 2])
  eta <- as.vector(x %*% par[1:p]) + o
  u <- if (length(modes) == G) modes else rep(0, G)
  for (i in 1:50) {
    mu <- exp(eta + s * u[g])
    both <- rowsum(cbind(s * (y - mu) * theta / (theta + mu), s^2 * mu * theta * (theta + y) / (theta + mu)^2), g)
    info <- both[, 2] + 1
    step <- pmax(-1, pmin(1, (both[, 1] - u) / info)); u <- u + step
    if (max(abs(step)) < 1e-10) break
  }
  modes <<- u
  at <- u + outer(sqrt(2 / info), gh$x)
  eta_k <- eta + s * at[g, ]
  logs <- rowsum(y * eta_k - (y + theta) * log(theta + exp(eta_k)), g) - at^2 / 2 + matrix(gh$x^2 + gh$logw, G, length(gh$x), byrow = TRUE)
  most <- do.call(pmax, as.data.frame(logs))
  sum(most + log(rowSums(exp(logs - most))) - log(info) / 2 - log(pi) / 2) + sum(lgamma(y + theta) - lgamma(theta) - lgamma(y + 1) + theta * log(theta))
}


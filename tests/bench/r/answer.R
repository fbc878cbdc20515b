# Fits the model of an adjusted answer to the very rows and columns that the product fitted: negative binomial (NB2), a normal intercept a
# trip, Laplace. Usage: Rscript answer.R rows.csv. Columns: y, offset, trip, then the design's, the intercept first. Prints one JSON object:
# seconds (elapsed, the fit alone), log_likelihood.
suppressPackageStartupMessages({ library(jsonlite); library(glmmTMB) })
d <- read.csv(commandArgs(TRUE)[1])
X <- as.matrix(d[, -(1:3)])
d$trip <- factor(d$trip)
took <- system.time(m <- suppressWarnings(glmmTMB(y ~ X - 1 + (1 | trip) + offset(offset), d, family = nbinom2)), gcFirst = TRUE)
cat(toJSON(list(r = as.character(getRversion()), glmmTMB = as.character(packageVersion("glmmTMB")), seconds = took[["elapsed"]], log_likelihood = as.numeric(logLik(m))), auto_unbox = TRUE, digits = 10))

# Seeded stint data of any size for timing. Usage: Rscript make-bench-csv.R TRIPS STINTS_PER_TRIP SEED > stints.csv
# The two sizes used here: 400 5 1 (2,000 stints) and 4000 5 1 (20,000 stints, 4,000 trips).
# Columns: trip, stint (numbers); lure (one of 8 classes); water_c (water temperature, C); tide_phase (radians, 0..2 pi; 0 = low water, pi = high water);
# pause_s (seconds of pause in the retrieve); rod_hours; fish (landed).
# Truth: log rate = -0.4 + lure effect - 0.006 (water_c - 23)^2 + 0.35 cos(tide_phase - 1.2) - 0.02 (pause_s - 3.5)^2 / (1 + pause_s / 4) + trip effect, trip sd 0.7
# (best tide phase 1.2 rad after low water, that is on the first half of the rise); fish ~ negative binomial, mean rate x rod_hours, theta 1.3.
# Invented data, for timing and recovery only.
a <- as.numeric(commandArgs(TRUE)); trips <- if (length(a) > 0) a[1] else 400; per <- if (length(a) > 1) a[2] else 5; seed <- if (length(a) > 2) a[3] else 1
RNGkind("Mersenne-Twister", "Inversion", "Rejection"); set.seed(seed)
lures <- c("jig", "cork", "twitch", "sinktwitch", "walker", "popper", "prop", "spoon"); eff <- c(0, .25, .1, -.15, -.4, -.3, -.6, .05)
trip <- rep(seq_len(trips), each = per); n <- length(trip); day <- runif(trips, 0, 365); temp <- 20 + 9 * sin(2 * pi * (day - 110) / 365) + rnorm(trips, 0, 1.5); b <- rnorm(trips, 0, .7)
pick <- t(apply(matrix(rexp(trips * 8), trips), 1, order)); lure <- pick[cbind(trip, 1 + (rbinom(n, 3, .45)))]
water <- round(temp[trip] + rnorm(n, 0, .5), 1); tide <- round((runif(trips, 0, 2 * pi)[trip] + ave(trip, trip, FUN = seq_along) * .4) %% (2 * pi), 4); pause <- round(pmin(12, rgamma(n, 4, 1)), 1); h <- round(pmax(.1, rgamma(n, 3, 3.5)) * sample(1:3, n, TRUE, c(.6, .3, .1)), 2)
mu <- h * exp(-.4 + eff[lure] - .006 * (water - 23)^2 + .35 * cos(tide - 1.2) - .02 * (pause - 3.5)^2 / (1 + pause / 4) + b[trip])
write.csv(data.frame(trip, stint = seq_len(n), lure = lures[lure], water_c = water, tide_phase = tide, pause_s = pause, rod_hours = h, fish = rnbinom(n, 1.3, mu = mu)), stdout(), row.names = FALSE, quote = FALSE)

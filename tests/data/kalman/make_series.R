# Generates series.txt with R: the Nile, and 20 series with gaps, each through KalmanLike, KalmanRun and KalmanSmooth.
out <- file("series.txt", "w")
g <- function(x) ifelse(is.na(x), "nan", sprintf("%.12g", x))
put <- function(name, y, level, pace, noise, start, start_var, pace_var) {
  # The pace is a random walk in continuous time, seen once a day.
  T <- matrix(c(1, 0, 1, 1), 2)
  V <- matrix(c(level + pace / 3, pace / 2, pace / 2, pace), 2)
  mod <- list(T = T, V = V, Z = c(1, 0), h = noise, a = c(start, 0), P = diag(c(start_var, pace_var)),
              Pn = T %*% diag(c(start_var, pace_var)) %*% t(T) + V)
  like <- KalmanLike(y, mod)
  nu <- sum(!is.na(y))
  # Lik is half of (ln of the mean square + mean ln variance), s2 the mean square of the standardised errors.
  ssq <- nu * like$s2
  sumlog <- nu * (2 * like$Lik - log(like$s2))
  run <- KalmanRun(y, mod)
  sm <- KalmanSmooth(y, mod)
  cat(name, length(y), g(level), g(pace), g(noise), g(start), g(start_var), g(pace_var),
      g(-0.5 * (nu * log(2 * pi) + sumlog + ssq)), "\n", file = out)
  for (t in seq_along(y)) cat(g(y[t]), g(run$states[t, 1]), g(sm$smooth[t, 1]), g(sm$var[t, 1, 1]), "\n", file = out)
}
fit <- StructTS(Nile, "level")
cat("StructTS Nile:", fit$coef, "\n")
put("nile", as.numeric(Nile), 1469.1, 0, 15099, 1120, 1e7, 0)
set.seed(20260301)
for (case in 1:20) {
  n <- sample(20:60, 1)
  level <- runif(1, 1e-5, 1e-3); pace <- runif(1, 1e-6, 3e-4); noise <- runif(1, 1e-5, 2e-3)
  v <- cumsum(rnorm(n, 0, sqrt(pace)))
  y <- 6 + cumsum(0.05 + v + rnorm(n, 0, sqrt(level))) + rnorm(n, 0, sqrt(noise))
  y[runif(n) < 0.2] <- NA
  put(sprintf("gaps%d", case), y, level, pace, noise, 6, 0.1, 0.003)
}
close(out)

# How much of the variance of animals' weights is shared by litter mates, by R's lme (maximum likelihood), and the
# weights themselves: RatPupWeight (nlme) and dietox (geepack). Run by tests/growth/litter_share_test.cpp.
library(nlme)
tell <- function(name, y, litter) {
  d <- data.frame(y = y, litter = factor(litter))
  fit <- lme(y ~ 1, random = ~ 1 | litter, data = d, method = "ML", control = lmeControl(msTol = 1e-12, tolerance = 1e-10))
  v <- as.numeric(VarCorr(fit)[, "Variance"])
  cat(name, nrow(d), format(c(fixef(fit), v, logLik(fit)), digits = 15), "\n")
  o <- order(d$litter)
  cat(paste(as.integer(d$litter)[o], format(d$y[o], digits = 15, trim = TRUE)), sep = "\n")
}
tell("RatPupWeight", RatPupWeight$weight, as.character(RatPupWeight$Litter))
data(dietox, package = "geepack")
for (week in c(1, 12)) {
  d <- dietox[dietox$Time == week, ]
  tell(paste0("dietox_week_", week), log(d$Weight), as.character(d$Litter))
}

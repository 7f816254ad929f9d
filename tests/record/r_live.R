# Draws data sets and prints each with R's answers, for tests/record/r_live_beside.c:
#     set,<rows>,<covariates>           then the rows: row,<time>,<event>,<cluster>,<x>...
#     km,<band>,<time>,<at risk>,<ended>,<cut short>,<survival>,<std err>,<lower>,<upper>
#     quantile,<band>,<share>,<value>,<lower>,<upper>
#     cox,<ties>,<covariate>,<coef>,<se>,<robust se>,<loglik 0>,<loglik>,<score test>,<wald test>
# Few and many rows, whole seconds and tenths, light and heavy censoring, clusters of one to thirty.
suppressMessages(library(survival))
set.seed(20261125)
put <- function(...) cat(paste(sapply(list(...), function(v) if (is.numeric(v)) sprintf("%.17g", v) else v), collapse = ","), "\n", sep = "")
tight <- coxph.control(eps = 1e-14, toler.chol = 1e-15, iter.max = 60)
bands <- c("log-log", "log", "plain")
cat("# ", R.version.string, ", survival ", as.character(packageVersion("survival")), "\n", sep = "")
for (i in 1:50) {
  n <- sample(c(30, 60, 120, 400), 1)
  p <- sample(1:4, 1)
  x <- matrix(rnorm(n * p), n, p)
  x[, 1] <- x[, 1] > 0
  cluster <- sample.int(max(2, n %/% sample(c(1, 3, 10, 30), 1)), n, TRUE) - 1
  frailty <- rgamma(n, 2, 2)
  wait <- rexp(n, frailty[cluster + 1] * exp(x %*% runif(p, -0.8, 0.8)) / 60)
  cut <- rexp(n, sample(c(0.2, 1, 2), 1) / 60)
  digits <- sample(0:1, 1)
  d <- data.frame(time = ceiling(pmin(wait, cut) * 10^digits) / 10^digits, event = as.integer(wait <= cut))
  put("set", n, p)
  for (k in 1:n) do.call(put, c(list("row", d$time[k], d$event[k], cluster[k]), as.list(x[k, ])))
  for (band in bands) {
    fit <- survfit(Surv(time, event) ~ 1, d, conf.type = band)
    s <- summary(fit, censored = TRUE)
    for (k in seq_along(s$time))
      put("km", band, s$time[k], s$n.risk[k], s$n.event[k], s$n.censor[k], s$surv[k], s$std.err[k], s$lower[k], s$upper[k])
    # Where a band rises again at its thin end, R's quantile() and its printed median disagree with each other.
    if (is.unsorted(-na.omit(fit$lower)) || is.unsorted(-na.omit(fit$upper))) next
    q <- quantile(fit, c(0.25, 0.5, 0.75))
    for (k in 1:3) put("quantile", band, k / 4, q$quantile[k], q$lower[k], q$upper[k])
  }
  for (ties in c("efron", "breslow")) {
    fit <- coxph(Surv(time, event) ~ x, d, ties = ties, cluster = cluster, control = tight)
    plain <- coxph(Surv(time, event) ~ x, d, ties = ties, control = tight)
    for (k in 1:p)
      put("cox", ties, k, coef(fit)[k], sqrt(fit$naive.var[k, k]), sqrt(fit$var[k, k]), fit$loglik[1], fit$loglik[2],
          plain$score, plain$wald.test)
  }
}

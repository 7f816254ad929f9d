# Computes tests/data/reference/statistics/cox_robust.csv: Cox fits of survdata.csv with the Lin-Wei error of coxph(cluster =).
#     cd tests/data/reference/statistics && Rscript ../../../record/cox_robust.R > cox_robust.csv
# The clusters are invented for the check: row i of a data set (from 0) belongs to cluster i %/% 4.
suppressMessages(library(survival))
all <- read.csv("survdata.csv")
tight <- coxph.control(eps = 1e-14, toler.chol = 1e-15, iter.max = 60)
cat("# COMPUTED by tests/record/cox_robust.R, ", R.version.string, ", survival ", as.character(packageVersion("survival")), "\n", sep = "")
cat("dataset,ties,n_covariates,term,coef,se,robust_se,robust_cov_with_first,n_clusters\n")
for (name in c("aml", "lung", "ovarian")) for (ties in c("efron", "breslow")) {
  rows <- all[all$dataset == name, ]
  rows$cluster <- (seq_len(nrow(rows)) - 1) %/% 4
  terms <- names(which(sapply(c("x1", "x2", "x3"), function(x) any(!is.na(rows[[x]])))))
  rows <- rows[complete.cases(rows[terms]), ]
  fit <- coxph(as.formula(paste("Surv(time, status) ~", paste(terms, collapse = "+"))), rows, ties = ties,
               cluster = cluster, control = tight)
  for (k in seq_along(terms))
    cat(sprintf("%s,%s,%d,%s,%.15g,%.15g,%.15g,%.15g,%d\n", name, ties, length(terms), terms[k], coef(fit)[k],
                sqrt(fit$naive.var[k, k]), sqrt(fit$var[k, k]), fit$var[k, 1], length(unique(rows$cluster))))
}

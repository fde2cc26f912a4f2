/** The same notebook in R: cells as knitr::spin reads them (`#'`), base R alone. */
export const R_NOTEBOOK = `#' # From the tables to a comparison of the arms
#' Needs R 4, no packages. Run it in the folder of the export: Rscript notebook.R
#' Each step computes a number anew and holds it against the one in the export.

#' Sessions that meet the protocol
read <- function(name) read.csv(name, na.strings = "", stringsAsFactors = FALSE)
sessions <- read("sessions.csv")
sessions <- sessions[is.na(sessions$set_aside), ]
cat("sessions", nrow(sessions), "\\n")

#' The rate of milk transfer, from the rows: milk taken over minutes from the first latch to the last moment with the nipple in
rows <- read("rows.csv")
indices <- read("indices.csv")
for (session in sessions$session) {
  own <- rows[rows$session == session & rows$teat_in_mouth == "true", ]
  last <- nrow(own)
  rate <- 60 * (own$intake_ml[last] - own$intake_ml[1]) / (own$at_s[last] - own$at_s[1])
  told <- indices$value[indices$session == session & indices$index == "transferRateMlPerMin"]
  cat("rate", session, format(rate, digits = 17), format(told, digits = 17), "\\n")
}

#' One number a participant and arm; then the arms, by Welch's test, or paired where everybody was in both
given <- merge(indices[!is.na(indices$value), ], sessions[, c("session", "participant", "arm")])
for (index in unique(indices$index)) {
  own <- given[given$index == index, ]
  if (nrow(own) == 0) next
  people <- aggregate(value ~ participant + arm, data = own, FUN = mean)
  arms <- names(which(table(people$arm) > 1))
  arms <- sort(arms, method = "radix")
  for (arm in arms[-1]) {
    a <- people[people$arm == arms[1], ]
    b <- people[people$arm == arm, ]
    paired <- setequal(a$participant, b$participant)
    if (paired) b <- b[match(a$participant, b$participant), ]
    test <- tryCatch(t.test(b$value, a$value, paired = paired), error = function(e) NULL)
    # Where nothing varies nobody knows how far it may be off.
    if (is.null(test) || !all(is.finite(test$conf.int))) next
    cat("comparison", index, arms[1], arm, format(c(mean(b$value) - mean(a$value), test$conf.int), digits = 17), "\\n")
  }
}
`;

# Loads the hand-over and draws one chart: RPE against the speed of the slowest
# rep.
#
#     Rscript start.R
#
# Needs R 4.0 or newer and no package. With the package arrow the tables can be
# had in one line each: arrow::read_parquet("sets.parquet").

args <- commandArgs(FALSE)
file <- sub("^--file=", "", args[grepl("^--file=", args)])
here <- if (length(file)) dirname(normalizePath(file[1])) else "."

# Takes away the quote that keeps spreadsheets from running a text.
restore <- function(text) {
  signs <- "-=+@\uff1d\uff0b\uff0d\uff20"
  text <- gsub(paste0("^'('*[", signs, "\t\r\n])"), "\\1", text, perl = TRUE)
  gsub(paste0("([,;|\t\r\n])'('*[", signs, "])"), "\\1\\2", text, perl = TRUE)
}

# Returns a table; empty cells are NA, dates are dates.
load <- function(name) {
  rows <- read.csv(file.path(here, name), na.strings = "", encoding = "UTF-8",
    stringsAsFactors = FALSE, check.names = FALSE)
  rows[] <- lapply(rows, function(column) if (is.character(column)) restore(column) else column)
  rows$session_date <- as.Date(rows$session_date)
  rows
}

reps <- load("reps.csv")
sets <- load("sets.csv")
cat(nrow(reps), "reps,", nrow(sets), "sets\n")

rated <- sets[!is.na(sets$rpe) & sets$rpe >= 5 & !is.na(sets$slowest_m_s), ]
if (nrow(rated) == 0) stop("no set has both RPE and speed")
who <- paste(rated$lifter, rated$lift, sep = ", ")
most <- names(sort(table(who), decreasing = TRUE))[1]
points <- rated[who == most, ]
means <- aggregate(slowest_m_s ~ rpe, points, mean)

pdf("effort-r.pdf", width = 7, height = 5)
plot(points$rpe, points$slowest_m_s, xlim = c(5, 10), ylim = c(0, max(points$slowest_m_s)),
  xlab = "RPE of the set", ylab = "slowest rep (m/s)", main = paste0(most, ": ", nrow(points), " sets"))
lines(means$rpe, means$slowest_m_s, type = "b", pch = 19, lwd = 2)
invisible(dev.off())
cat("effort-r.pdf: ", most, ", ", nrow(points), " sets\n", sep = "")

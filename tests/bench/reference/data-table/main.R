# main.R EXPORTS OUT PROCESSES: the job of the benchmark with data.table; patients side by side where there are cores.

arguments <- commandArgs(trailingOnly = TRUE)
here <- dirname(sub("^--file=", "", grep("^--file=", commandArgs(), value = TRUE)))
suppressPackageStartupMessages(library(data.table))
for (part in c("pieces", "rules", "medians", "episodes", "figures", "patient")) source(file.path(here, paste0(part, ".R")))

paths <- sort(list.files(arguments[1L], pattern = "\\.csv$", full.names = TRUE))
processes <- as.integer(arguments[3L])
# Processes share the cores best where each works on one thread.
setDTthreads(1L)
recordings <- parallel::mclapply(paths, patient_figures, mc.cores = processes)
broken <- vapply(recordings, inherits, TRUE, "try-error")
if (any(broken)) stop(recordings[[which(broken)[1L]]])
dir.create(arguments[2L], recursive = TRUE, showWarnings = FALSE)
writeLines(
  jsonlite::toJSON(list(recordings = recordings), digits = I(17), auto_unbox = TRUE, null = "null", na = "null"),
  file.path(arguments[2L], "results.json")
)

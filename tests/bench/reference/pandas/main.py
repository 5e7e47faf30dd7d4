"""main.py EXPORTS OUT PROCESSES: the job of the benchmark with pandas and numpy, one patient at a time."""

import glob
import json
import multiprocessing
import os
import sys

from patient import Patient


def figures_of(path):
    return Patient(path).figures()


def main(exports, out, processes):
    paths = sorted(glob.glob(os.path.join(exports, "*.csv")))
    if processes > 1:
        with multiprocessing.Pool(processes) as pool:
            recordings = pool.map(figures_of, paths, chunksize=1)
    else:
        recordings = [figures_of(path) for path in paths]
    os.makedirs(out, exist_ok=True)
    with open(os.path.join(out, "results.json"), "w") as file:
        json.dump({"recordings": recordings}, file)


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], int(sys.argv[3]))

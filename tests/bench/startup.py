"""How long one pasted listing takes, against importing spaCy, making a blank English pipeline and reading the same text.

`python -m tests.bench.startup` prints, in one run, the median of alternating runs in fresh processes and their ratios;
it also shows that `packs` and `--help` import no spaCy. Machines are noisy: trust the ratio, not the seconds.
"""

import statistics
import subprocess
import sys
import time
from pathlib import Path

ROUNDS = 9
LISTING = Path(__file__).parents[2] / "auditor" / "demo" / "plate-says-1928.txt"
BLANK = f"import spacy; nlp = spacy.blank('en'); print(len(nlp(open({str(LISTING)!r}).read())))"
RUN = "from auditor.cli import main; main()"
COMMANDS = {
    "spaCy: import, blank pipeline, read": [sys.executable, "-c", BLANK],
    "auditor check LISTING": [sys.executable, "-c", RUN, "check", str(LISTING)],
    "auditor check --format json": [sys.executable, "-c", RUN, "check", str(LISTING), "--format", "json"],
    "auditor packs": [sys.executable, "-c", RUN, "packs"],
    "auditor --help": [sys.executable, "-c", RUN, "--help"],
}


def seconds(command: list[str]) -> float:
    """Wall time of one run in a fresh process."""
    start = time.perf_counter()
    subprocess.run(command, stdout=subprocess.DEVNULL, check=False)
    return time.perf_counter() - start


def imports_spacy(command: list[str]) -> bool:
    """Whether a command's process imports spaCy."""
    told = subprocess.run([*command[:1], "-X", "importtime", *command[1:]], capture_output=True, text=True, check=False).stderr
    return any(line.split("|")[-1].strip() == "spacy" for line in told.splitlines())


def main() -> None:
    """Print medians, ratios and which commands import spaCy."""
    times: dict[str, list[float]] = {name: [] for name in COMMANDS}
    for _ in range(ROUNDS):
        for name, command in COMMANDS.items():
            times[name].append(seconds(command))
    floor = statistics.median(times["spaCy: import, blank pipeline, read"])
    for name, taken in times.items():
        median = statistics.median(taken)
        print(
            f"{name:<40} {median * 1000:7.0f} ms   {median / floor:5.2f} of spaCy's   imports spaCy: {'yes' if imports_spacy(COMMANDS[name]) else 'no'}"
        )


if __name__ == "__main__":
    main()

"""Published examples: `python -m tests.bench.published [FOLDER…]` prints how many are dated rightly, and every miss."""

import sys
from collections import Counter

from tests.published import RIGHT, from_claims, from_text, published, verdict


def main(folders: list[str]) -> None:
    """Count and list."""
    counts: dict[str, Counter[str]] = {"claims": Counter(), "text": Counter()}
    for example in published():
        if folders and example.folder not in folders:
            continue
        for how, read in (("claims", from_claims), ("text", from_text)):
            found = read(example)
            result = verdict(example, found) if example.spans or verdict(example, found) != "undated" else "undated, as it should be"
            counts[how][result] += 1
            if result != RIGHT and example.spans:
                got = "; ".join(f"{d.rule}: {', '.join(r.period for r in d.readings) or d.failure}" for d in found) or "not read"
                print(f"{how}: {result}: {example}: {got}{' — ' + example.undated_because if example.undated_because else ''}")
    for how, counted in counts.items():
        print(f"from {how}: " + ", ".join(f"{n} {what}" for what, n in counted.most_common()))


if __name__ == "__main__":
    main(sys.argv[1:])

"""How many of the invented exchanges lead to the right findings cleared, new and standing.

`python -m tests.bench.replies [-v]` reads `fixtures/replies`, written independently of the code. Right means: what was
cleared and what is new is exactly what the file lists, and everything that it lists as standing stands. The stricter
figure also asks that nothing stands that the file does not list.
"""

import sys

from tests.reply_cases import changed, exchanges, is_right, shown


def main() -> None:
    """Print both figures, and each miss with -v."""
    results = [(e, e.audited()) for e in exchanges()]
    right = [e.name for e, r in results if is_right(e, changed(r))]
    exact = [e.name for e, r in results if changed(r) == e.expected]
    print(f"exchanges with the right findings cleared, new and standing: {len(right)} of {len(results)}")
    print(f"of these with no further finding standing: {len(exact)}")
    if "-v" in sys.argv[1:]:
        for exchange, result in results:
            if exchange.name not in right:
                print(shown(exchange, result))


if __name__ == "__main__":
    main()

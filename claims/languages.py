"""Which language a sentence is in, by a light rule: the language with most of its known words there.

English is taken where nothing tells. `Vocabulary` holds a lexicon for each language, made when first needed.
"""

from collections import Counter
from collections.abc import Sequence

from claims.grid import Grid
from claims.lexicon import Hit, Lexicon
from claims.names_known import add_makers, add_models, add_packs
from claims.pack import Pack
from claims.phrase_files import ENGLISH, Language, add_language, known_words, languages


class Vocabulary:
    """The phrases of every language with the names of a set of packs and the makers outside them."""

    def __init__(self, packs: Sequence[Pack]) -> None:
        self.packs = tuple(packs)
        self._made: dict[str, tuple[Lexicon, Language]] = {}
        self._together: dict[frozenset[str], Language] = {}

    def of(self, language: str) -> tuple[Lexicon, Language]:
        """The lexicon of one language and its lists."""
        if language not in self._made:
            lexicon = Lexicon()
            lists = add_language(lexicon, language)
            add_packs(lexicon, self.packs)
            add_makers(lexicon)
            add_models(lexicon)
            self._made[language] = lexicon, lists
        return self._made[language]

    def together(self, found: frozenset[str]) -> Language:
        """The lists of several languages, united with the English ones."""
        if found not in self._together:
            out = self.of(ENGLISH)[1]
            for language in sorted(found - {ENGLISH}):
                out = out.with_also(self.of(language)[1])
            self._together[found] = out
        return self._together[found]

    def find(self, grid: Grid) -> tuple[dict[str, list[Hit]], Language]:
        """(hits by category, lists) of a field, each sentence read in its own language."""
        spoken = sentence_languages(grid)
        found = frozenset(spoken.values()) or frozenset({ENGLISH})
        if found == {ENGLISH}:
            lexicon, language = self.of(ENGLISH)
            return lexicon.find(grid), language
        hits: dict[str, list[Hit]] = {}
        for name in sorted(found):
            for category, here in self.of(name)[0].find(grid).items():
                hits.setdefault(category, []).extend(h for h in here if spoken.get(grid.sentence[h.i], ENGLISH) == name)
        for here in hits.values():
            here.sort(key=lambda h: (h.i, h.j))
        return hits, self.together(found)


def sentence_languages(grid: Grid) -> dict[int, str]:
    """Sentence number to language; a sentence in which nothing tells has the language that most others have."""
    others = [name for name in languages() if name != ENGLISH]
    foreign = {name: known_words(name) for name in others}
    if not any(tok in words for words in foreign.values() for tok in grid.toks):
        return {}
    counts: dict[int, Counter[str]] = {}
    english = known_words(ENGLISH)
    for sentence, tok in zip(grid.sentence, grid.toks, strict=True):
        here = counts.setdefault(sentence, Counter())
        if tok in english:
            here[ENGLISH] += 1
        for name, words in foreign.items():
            if tok in words:
                here[name] += 1
    total = sum(counts.values(), Counter())
    most = max((ENGLISH, *others), key=lambda name: total[name])
    out = {}
    for sentence, here in counts.items():
        best = max((most, ENGLISH, *others), key=lambda name: here[name])
        out[sentence] = best if here[best] > here[most] + (best != ENGLISH) else most
    return out

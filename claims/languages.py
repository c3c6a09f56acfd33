"""Which language a sentence is in, by a light rule: the language with most of its known words there.

Where nothing tells, it is the language of the listing as a whole, and English where that does not tell either. `Vocabulary` holds a lexicon for each language, made when first needed.
"""

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from functools import cache

from claims.grid import Grid
from claims.lexicon import Hit, Lexicon
from claims.names_known import add_makers, add_models, add_packs
from claims.pack import Pack
from claims.phrase_files import ENGLISH, Language, add_language, known_words, languages

TEXT_SEEN, TOKENS_SEEN = 200, 40
"""Characters of a field that tell the language of a listing, and tokens that tell that of most of its sentences: its head,
so that lines of a site or dealer in another language behind it change nothing."""
USUAL_AHEAD = 2
"""Words by which another language must lead in a field of a listing that is not in English."""
_WORD, _ASCII_WORD = re.compile(r"[^\W\d_]+"), re.compile("[a-z]+")


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

    def find(self, grid: Grid, usual: str = ENGLISH) -> tuple[dict[str, list[Hit]], Language]:
        """(hits by category, lists) of a field, each sentence read in its own language; `usual` is the listing's."""
        spoken = sentence_languages(grid, usual)
        found = frozenset(spoken.values())
        if found <= {ENGLISH}:
            lexicon, language = self.of(ENGLISH)
            return lexicon.find(grid), language
        hits: dict[str, list[Hit]] = {}
        for name in sorted(found):
            for category, here in self.of(name)[0].find(grid).items():
                hits.setdefault(category, []).extend(h for h in here if spoken.get(grid.sentence[h.i], ENGLISH) == name)
        for here in hits.values():
            here.sort(key=lambda h: (h.i, h.j))
        return hits, self.together(found)


@cache
def languages_by_word() -> Mapping[str, tuple[str, ...]]:
    """The languages that each known word tells of."""
    out: dict[str, tuple[str, ...]] = {}
    for language in languages():
        for word in known_words(language):
            out[word] = (*out.get(word, ()), language)
    return out


@cache
def foreign_words() -> frozenset[str]:
    """The known words of every language but English."""
    return frozenset(word for word, found in languages_by_word().items() if found != (ENGLISH,))


def usual_language(texts: Iterable[str]) -> str:
    """The language of a listing: the one that most of its known words tell of, English in case of doubt."""
    seen = "\n".join([text[:TEXT_SEEN] for text in texts]).lower()
    words = (_ASCII_WORD if seen.isascii() else _WORD).findall(seen)
    if foreign_words().isdisjoint(words):
        return ENGLISH
    known = languages_by_word()
    counts = Counter(language for word in words for language in known.get(word, ()))
    return max(languages(), key=lambda name: counts[name])


def sentence_languages(grid: Grid, usual: str = ENGLISH) -> dict[int, str]:
    """Sentence number to language; a sentence in which nothing tells has the language that most others have, or the usual one."""
    if usual == ENGLISH and foreign_words().isdisjoint(grid.words):
        return {}
    known = languages_by_word()
    counts: dict[int, Counter[str]] = {}
    total = Counter({usual: USUAL_AHEAD} if usual != ENGLISH else {})
    for k, (sentence, told) in enumerate(zip(grid.sentence, map(known.get, grid.toks), strict=True)):
        if told:
            here = counts.setdefault(sentence, Counter())
            for language in told:
                here[language] += 1
                total[language] += k < TOKENS_SEEN
    most = max((usual, *languages()), key=lambda name: total[name])
    out = dict.fromkeys(grid.sentence, most)
    for sentence, here in counts.items():
        best = max((most, *languages()), key=lambda name: here[name])
        if here[best] > here[most] + ({best, most} != {ENGLISH}):
            out[sentence] = best
    return out

"""Who ate it: the writer, somebody else, or a place the food was taken to."""

from __future__ import annotations

from functools import cached_property

from bot.language.frames.stretch import Stretch, grams_of, of_kitchens
from bot.language.pack import pack
from bot.language.pronouns import stands_for_food
from bot.language.text import singular
from domain.reference.words import is_action, is_animal, is_person_noun

MOST_FOR_ONE_G = 800.0
"""What is more than this one person does not take along for lunch."""
LEAST_OF_ONE_G = 20
"""A smaller number without a unit counts boxes or pieces."""
ADVERB = "ly"
NEAR = 4
"""Words between somebody's name and the little that is told of."""


class Eaters(Stretch):
    """A stretch of a message, with the people mentioned in it."""

    @cached_property
    def mine(self) -> bool:
        """Whether it says that the writer ate it."""
        return (self.cue("went_to_me") or self._leads_eating) and not self.cue("not_to_me")

    @cached_property
    def _leads_eating(self) -> bool:
        """'took 300 g', '…, had 250 g there': a verb of eating without a subject has the writer as its subject."""
        for start, _ in self.places("ate_myself"):
            if start == self.at[0] or self.word(start - 1) in pack()["before_a_clause"]:
                return True
        return False

    @cached_property
    def person(self) -> tuple[int, int] | None:
        """The tokens that name somebody else, or a place the food goes to."""
        for n in self.at:
            if self.is_person(n):
                return self.whole_person(n)
        several = next((p for p in self.places("more_people") if p[1] - p[0] > 1), None)
        return several or next((p for p in self.places("elsewhere") if self.goes_to(p[0])), None)

    @property
    def off_their_plate(self) -> bool:
        """Whether a little of somebody's helping is told of: 'my daughter's last bit of chicken'."""
        if not self.cue("a_little_of"):
            return False
        places = self.places("a_little_of")
        owners = [n for n in self.at if self.message.tokens[n].text.endswith("'s") and self.is_person(n)]
        named = [start for _, start, _ in self.scene.named]
        return any(owner < start for owner in owners for start in named) and any(
            abs(owner - start) <= NEAR for owner in owners for start, _ in places
        )

    @cached_property
    def lost(self) -> list[tuple[int, int]]:
        """Where it says that food was lost or thrown away; not where somebody 'dropped in' or 'went off with it'."""
        others = {start for start, _ in self.places("visiting", "made_off")}
        found = [place for place in self.places("came_to_grief") if place[0] not in others]
        return [place for place in found if self.word(place[0] - 1) not in pack()["negation"]]

    def goes_to(self, n: int) -> bool:
        """Whether food is taken to a place ('to the potluck', 'next door'), as opposed to eaten there."""
        if self.word(n) in pack()["next_to_us"]:
            return True
        return self.led_by(n, "to_somebody") and not (self._at_work(n) and self._ones_lunch)

    def _at_work(self, n: int) -> bool:
        return any(start <= n + 1 and n < end for start, end in self.places("where_one_works"))

    @cached_property
    def _ones_lunch(self) -> bool:
        """'took 400 g of the soup to work': carried off, and no more than one person eats."""
        taken = [c.amount for c in self.scene.amounts if c.amount is not None]
        small = all(grams_of(a) <= MOST_FOR_ONE_G if a.kind == "mass" or a.value > 1 else True for a in taken)
        several = any(a.kind != "mass" and 1 < a.value < LEAST_OF_ONE_G for a in taken)
        return small and not several and self.cue("carried_off")

    def is_person(self, n: int) -> bool:
        """Whether a token names somebody: 'mum', 'she', 'Nuala', 'craigs'."""
        if n not in self._persons:
            self._persons[n] = self._names_somebody(n)
        return self._persons[n]

    @cached_property
    def _persons(self) -> dict[int, bool]:
        return {}

    def _names_somebody(self, n: int) -> bool:
        token = self.message.tokens[n]
        if token.kind != "word" or self.named_at(n) or stands_for_food(self.message, n):
            return False
        if token.text in pack()["several_things"] and (
            self.word(n - 1) in pack()["counting_them"] or self.word(n + 1) in pack()["things_do"]
        ):
            return False
        if self.owns_helping(n) or self.is_called_one(n) or self.is_fed(n):
            return True
        if self._is_of_a_chunk(n) or (token.text.endswith("'s") and self.is_known_owner(n)):
            return False  # "Tonight's dinner: …"
        if self.is_kind_of_person(n):
            return True
        named = token.raw[:1].isupper() and n > 0 and self.message.tokens[n - 1].text not in ".!?\n"
        return (named or self._by_place(n)) and not self.is_known(n)

    def is_fed(self, n: int) -> bool:
        """'for the sparrows', 'to the blue tits': animals that food is said to be for."""
        word = self.message.tokens[n].text
        if singular(word) == word or not is_animal(singular(word)):
            return False
        return any(self.led_by(k, "given_to") for k in (n, n - 1))

    def is_called_one(self, n: int) -> bool:
        """Whether a token is a word for people or animals, whatever stands around it: 'mum', 'she', "dog's"."""
        bare, words = self.message.tokens[n].text.removesuffix("'s"), self.message.words
        return singular(bare) in words.people or bare in words.pronouns or bare in pack()["more_people"]

    def is_kind_of_person(self, n: int) -> bool:
        """'my spouse', 'the lodgers': a noun for people behind an article, or several of them."""
        word = self.message.tokens[n].text
        if not word.isalpha() or not is_person_noun(singular(word)) or self.is_known(n):
            return False
        led = any(self.word(n - 1) in pack()[c] for c in ("before_a_person", "an_article", "belonging_to_others"))
        return led or singular(word) != word

    def owns_helping(self, n: int) -> bool:
        """Whether somebody's plate or portion is spoken of: "Dan's plate", 'hubbys bowl', 'her share'."""
        said = self.message.tokens[n].text
        if not (said.endswith("'s") or said in pack()["belonging_to_others"] or self._is_kin_with_s(n)):
            return False
        behind = [self.word(n + 1), self.word(n + 2)]
        helping = behind[0] in pack()["a_helping_of"] or (
            behind[1] in pack()["a_helping_of"] and behind[0] in pack()["kind_of_helping"]
        )
        return helping and not self.is_known_owner(n)

    def _is_kin_with_s(self, n: int) -> bool:
        return self.word(n).endswith("s") and singular(self.word(n)) in self.message.words.people

    def is_known_owner(self, n: int) -> bool:
        """Whether what a word with 's names is a day, a meal or a food and nobody: "tonight's plate"."""
        if self.is_called_one(n):
            return False
        bare = self.message.tokens[n].text.removesuffix("'s")
        known = self.message.words.knows(bare) or bare in pack()["later_on"]
        return known or of_kitchens(self.word(n)) or self._is_of_a_chunk(n)

    def _is_of_a_chunk(self, n: int) -> bool:
        return n in self._of_chunks

    @cached_property
    def _of_chunks(self) -> frozenset[int]:
        """The tokens that are read as something: a food, an amount, a time."""
        return frozenset(n for c in self.message.chunks if c.kind != "word" for n in range(c.start, c.end))

    def is_known(self, n: int) -> bool:
        """Whether the pack, a food's name or a concept about kitchens contains the word."""
        line, word = self.message.line, self.message.tokens[n].text
        if line.words.knows(word) or line.words.knows(line.lemmas[n]) or line.name(n) is not None:
            return True
        return of_kitchens(word)

    def _by_place(self, n: int) -> bool:
        """'dan had …', '… to asha', 'gave priya …', '… is craigs': an unknown word where a name is expected."""
        behind = [self.word(k) for k in range(n + 1, n + 4)]
        if behind[0] in pack()["just_so"]:
            behind = behind[1:]
        if behind[0] in pack()["of_a_share"]:
            return False  # 'for start of day'
        took = any(True for _ in pack()["took_it"].ends(behind, 0)) or (
            self.message.tokens[n].raw[:1].isupper() and behind[0] in pack()["makes_or_leaves"]
        )
        if took and self._begins(n) and not self._is_how(n):
            return True
        if self.word(n - 1) in pack()["said_is"]:
            return self.message.tokens[n].text.endswith("s")
        does = is_action(self.message.tokens[n].text) or self.word(n) in pack()["says_how"]
        acts = does and not self.cue("gave_it", "gave_away")  # 'to thicken it'
        return self.word(n - 1) in pack()["to_whom"] and not acts and self.word(n) not in pack()["whither"]

    def _is_how(self, n: int) -> bool:
        """'finally had half of it': whether a word only says how something was done."""
        word = self.message.tokens[n].text
        return word.endswith(ADVERB) and is_action(word)

    def _begins(self, n: int) -> bool:
        return n == self.at[0] or self.word(n - 1) in pack()["before_a_subject"]

    def whole_person(self, n: int) -> tuple[int, int]:
        """'my friend Nisha', 'the two kids': the tokens from the article to the name."""
        start, end = n, n + 1
        before = self.word(start - 1)
        while before in pack()["honorific"] or before in pack()["before_a_person"]:
            start -= 1
            before = self.word(start - 1)
        while end <= self.at[-1] and (self.is_person(end) or (self.word(end) in pack()["honorific"])):
            end += 1
        return start, end

    @property
    def took_along(self) -> bool:
        """'took 350 g to the church supper': the writer took it somewhere and ate none of it."""
        leads = self.at and self.word(self.at[0]) in pack()["carried_off"]
        return bool(leads) and self.person is not None and self.led_by(self.person[0], "to_somebody")

    @property
    def who(self) -> str:
        """Who ate it, in the writer's words; empty for a pronoun or a place."""
        if self.person is None:
            return ""
        if self.has_no_name(self.person[0]):
            return ""
        said = self.message.line.said(*self.person).removesuffix("'s")
        return said if self.word(self.person[0]) not in pack()["elsewhere"] else ""

    def has_no_name(self, n: int) -> bool:
        """Whether a token stands for somebody without naming them: 'he', 'he's cleared the rest', 'hers', 'himself'."""
        said = self.message.tokens[n].text.removesuffix("'s")
        return said in self.message.words.pronouns or said in pack()["without_a_name"]

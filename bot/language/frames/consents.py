"""The frame for consents in any words: a coach, what is seen or shown of the writer, and whether it is to stop.

Nothing of it may be missed: where somebody says that a coach is to see less, and not certainly what, it is asked.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, Literal

from bot.language.guided import EndCoaching, ShareAgain, StopSharing, WhoSees, Withhold
from bot.language.meanings import Meaning
from bot.language.pack import pack
from bot.language.persons import named_in
from bot.language.scene import Scene

Part = Literal["body_weight", "energy", "protein", "comments", "cautions", "export"]
Turn = Literal["stop", "perhaps", "asked", "again", ""]
PARTS: Final[tuple[tuple[Part, str], ...]] = (
    ("body_weight", "weighing_of_another"), ("body_weight", "body_weight_word"), ("energy", "energy"),
    ("protein", "protein_g"), ("comments", "comments_word"), ("cautions", "cautions_word"), ("export", "export_word"),
)  # fmt: skip
"""The parts with the concepts that name them."""
MOST_WORDS = 40
TAKES_BACK = 4
"""Most words between what is taken and 'back'."""
REACH = 7
"""Words between a coach and what they do: 'Rhona really does not have to be able to see'."""


def consented(scene: Scene) -> list[Meaning] | None:
    """'Petra doesn't need to see my body weight any more', 'can you stop showing her my stuff', 'she may look'."""
    message = scene.message
    around = message.around
    if (not around.coaches and not around.coaches_before) or len(message.chunks) > MOST_WORDS:
        return None
    if scene.named or message.of("amount", "hash", "price", "macro") or scene.cue("condition"):
        return None
    return _by_turn(scene) or (_by_parts(scene) if around.coaches and not scene.foods else None)


def _by_turn(scene: Scene) -> list[Meaning] | None:
    """What it says of seeing and showing, clause by clause: a wish that it stops goes before all else."""
    if not scene.cue("looks_at_it", "shows_it", "kept_to_oneself", "consent_itself", "rid_of_them", "let_back_in"):
        return None
    message = scene.message
    if message.has_any(message.words.people - pack()["own_coach_word"].words - _names(scene)):
        return None
    turns = [_turn(scene, words, asks) for words, asks in _clauses(scene) if not _of_food(scene, words)]
    named = _named(scene)
    coach = named[0] if len(named) == 1 else ""
    if "stop" in turns or "perhaps" in turns:
        return _less(scene, coach, certain="stop" in turns)
    if "asked" in turns:
        return [WhoSees()]
    if "again" not in turns:
        return None
    parts = _parts(scene)
    standing = bool(message.around.coaches)
    return (
        [Withhold(what=part, coach=coach, given=True) for part in parts]
        if parts and standing
        else [ShareAgain(coach=coach)]
    )


def _less(scene: Scene, coach: str, *, certain: bool) -> list[Meaning]:
    """What is not to be seen any more: a part where only parts are named, else all of it."""
    if not scene.message.around.coaches:
        return [WhoSees()]
    parts = _parts(scene)
    whole = scene.cue("seen_whole", "shared_of_mine", "rid_of_them")
    mixed = scene.cue("weigh_ins") or (scene.cue("but_not_all") and (whole or not certain))
    if parts and not whole and not mixed:
        return [Withhold(what=part, coach=coach) for part in parts]
    doubtful = not certain or mixed or scene.cue("but_not_all")
    return [StopSharing(coach=coach) if doubtful else EndCoaching(whom=coach)]


def _parts(scene: Scene) -> list[Part]:
    return list(dict.fromkeys(part for part, concept in PARTS if scene.cue(concept)))


def _names(scene: Scene) -> set[str]:
    """The names of the coaches, also of those who were one, word by word."""
    around = scene.message.around
    return {part.casefold() for name in (*around.coaches, *around.coaches_before) for part in name.split()}


def _named(scene: Scene) -> list[str]:
    """The coaches who are named, also those who were one."""
    around = scene.message.around
    words = {token.text.casefold() for token in scene.message.tokens}
    return named_in((*around.coaches, *around.coaches_before), words)


def _clauses(scene: Scene) -> list[tuple[list[str], bool]]:
    """The words of each clause, and whether the sentence has a question mark at its end."""
    line, found = scene.message.line, []
    words: list[str] = []
    for n in [n for c in scene.message.chunks for n in range(c.start, c.end)]:
        if line.tokens[n].kind != "sign":
            words.append(line.plain[n])
        elif words:
            found.append((words, line.tokens[n].text == "?"))
            words = []
    if words:
        found.append((words, False))
    return found


def _of_food(scene: Scene, words: Sequence[str]) -> bool:
    """Whether a clause is about a food: 'she can have the soup again'."""
    if scene.cue("consent_itself", "seen_data", "shared_of_mine"):
        return False
    plain = scene.message.line.plain
    return any(plain[n] in words for c in scene.foods for n in range(c.start, c.end))


def _places(words: Sequence[str], concept: str) -> list[tuple[int, int]]:
    return [(at, end) for at in range(len(words)) if (end := pack()[concept].end(words, at)) is not None]


def _turn(scene: Scene, words: Sequence[str], asks: bool) -> Turn:
    """Whether a clause wants the sharing to stop, perhaps, asks about it or gives it again; empty for neither."""
    onlookers = _onlookers(scene, words)
    looks = [at for at, _ in _places(words, "looks_at_it")]
    seen = next((at for who in onlookers for at in looks if 0 < at - who <= REACH), None)
    shown = bool(onlookers or _places(words, "shared_of_mine")) and bool(_places(words, "shows_it"))
    itself = bool(_places(words, "consent_itself"))
    gone = [(at, end) for at, end in _places(words, "rid_of_them") if any(at < who <= end + 1 for who in onlookers)]
    kept = bool(_places(words, "kept_to_oneself"))
    back = bool(_places(words, "let_back_in")) and bool(onlookers)
    if (seen is None and not (shown or itself or gone or kept or back)) or _is_idle(scene, words):
        return ""
    if seen is not None and not (shown or itself or gone or back) and not _of_the_writer(scene):
        return ""
    asked = asks or _begins_asking(words)
    sends = (
        seen is None and not (itself or gone or back) and onlookers and onlookers[-1] < _places(words, "shows_it")[0][0]
    )
    if sends and not scene.cue("seen_data", "shared_of_mine") and not kept:
        return ""  # 'did she send anything?'
    if asked and not _requests(words):
        return "perhaps" if _places(words, "how_to") and _stops(words) else "asked"
    if gone:
        return "perhaps" if not pack()["polite"].found(words) and not _places(words, "coach_word") else "stop"
    if not asked and scene.message.around.coaches and _places(words, "nothing_else") and not _stops(words):
        return "perhaps"
    if kept or _stops(words):
        willed = kept or asked or _takes_back(words) or _places(words, "will_to_stop")
        return "stop" if willed else "perhaps"
    given = back or bool(_places(words, "given_again"))
    if not given and _places(words, "may_look") and scene.cue("seen_data", "shared_of_mine"):
        given = not all(words[at] in pack()["he_or_she"] for at in onlookers)
    return "again" if given else ""


def _onlookers(scene: Scene, words: Sequence[str]) -> list[int]:
    """Where a coach is spoken of, by name, by role or as 'she', or anybody at all."""
    names = _names(scene)
    spoken = {at for name in ("coach_word", "any_onlooker") for at, _ in _places(words, name)}
    return sorted(spoken | {at for at, word in enumerate(words) if word in names or word.removesuffix("s") in names})


def _of_the_writer(scene: Scene) -> bool:
    """Whether what is seen is the writer's: 'my meals', 'what I eat', 'me', or a part of the consent."""
    if scene.cue("seen_data", "shared_of_mine", "seen_of_me") or _parts(scene):
        return True
    plain = scene.message.line.plain
    coaches = {at for at, _ in _places(plain, "coach_word")}
    return any(word in pack()["my_own"] for at, word in enumerate(plain) if at not in coaches)


def _is_idle(scene: Scene, words: Sequence[str]) -> bool:
    """Whether it wishes nothing of it: 'I don't mind if she sees it', 'i cant see her note', 'let her know that …'."""
    said = [word for word in words if word not in pack()["polite"]]
    at = 1 if said[:1] and said[0] in pack()["the_writer"] else 0
    known = pack()["lets_know"].end(said, at) is not None and bool(_places(said, "know_that"))
    passed_on = known or pack()["tell"].end(said, 0) is not None
    return passed_on or bool(_places(words, "does_not_mind") or _places(words, "writer_looks"))


def perhaps_of_sharing(scene: Scene) -> list[Meaning] | None:
    """What else may be a wish that a coach sees less, where nothing else was made out: it is asked, never dropped."""
    message = scene.message
    if (
        not message.around.coaches
        or not scene.cue("of_a_consent")
        or message.has_any(message.words.people - _names(scene) - pack()["own_coach_word"].words)
    ):
        return None
    return [StopSharing(coach=named[0] if len(named := _named(scene)) == 1 else "")]


def _stops(words: Sequence[str]) -> bool:
    """Whether it says no to it, in the present: 'did not see' tells what was."""
    if _takes_back(words):
        return True
    for at, _ in _places(words, "no_to_it"):
        if words[at] != "not" or at == 0 or words[at - 1] not in pack()["told_of_the_past"]:
            return True
    return False


def _takes_back(words: Sequence[str]) -> bool:
    """'I take it back that she can look': whether something is taken back, with what it is between."""
    backs = [at for at, word in enumerate(words) if word in pack()["back_to_me"]]
    return any(0 <= back - end <= TAKES_BACK for _, end in _places(words, "takes_it") for back in backs)


def _begins_asking(words: Sequence[str]) -> bool:
    at = pack()["polite"].end(words, 0) or 0
    said = [word for word in words[at:] if word not in pack()["before_question"]]
    return bool(said) and said[0] in pack()["begins_question"]


def _requests(words: Sequence[str]) -> bool:
    """Whether it is a request though it is put as a question: 'can u make it so …', 'can stop the sharing?'."""
    if _places(words, "request_form") or _places(words, "made_so"):
        return True
    said = [word for word in words if word not in pack()["polite"]]
    return len(said) > 1 and said[0] in pack()["auxiliary"] and said[1] in pack()["no_to_it"]


def _by_parts(scene: Scene) -> list[Meaning] | None:
    """A coach and a part beside a word for withholding or giving it, without a word for seeing."""
    message = scene.message
    if message.asks or "?" in message.said:
        return None
    named = _named(scene)
    if len(named) > 1 or not (named or scene.cue("coach_word")):
        return None
    if scene.cue("coaching_over"):
        return [EndCoaching(whom=named[0] if named else "")]
    parts = _parts(scene)
    withheld = scene.cue("not_to_be_seen", "not_shown")
    if not parts or not (withheld or scene.cue("to_be_seen")):
        return None
    return [Withhold(what=part, coach=named[0] if named else "", given=not withheld) for part in parts]

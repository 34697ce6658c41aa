"""What is said of somebody who is nobody here: it never falls on the writer or on anybody else.

A name is known by its form: a first name, or a word that is none and stands where a person does.
"""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.fact_meanings import ComputeTarget, DayKind, SetTarget
from bot.language.guided import HowIs, Pause, Resume
from bot.language.meanings import Answer, Bare, Chatter, Meaning, NotMine, Unclear
from bot.language.message import SENTENCE_END, Message
from bot.language.pack import pack
from bot.language.persons import as_name, is_name, named_in
from bot.language.scene import Scene
from bot.language.setting_meanings import AskReminderTime, SetReminder, SetSetting, Snooze
from bot.language.told import Item
from domain.reference.words import is_action, is_given_name, is_notion, is_person_noun, is_real_word

OF_THE_WRITER = (
    AskReminderTime, ComputeTarget, DayKind, Pause, Resume, SetReminder, SetSetting, SetTarget, Snooze,
)  # fmt: skip
"""Commands that change how the writer is served."""
NOTHING = (Answer, Bare, Chatter, NotMine, Unclear)


def stranger(message: Message) -> str:
    """The last name in the message that is nobody's here, '' without one: 'now one for Kim', 'one more to add, jaz'."""
    tokens = message.line.tokens
    places = [n for c in message.chunks for n in range(c.start, c.end) if _may_be_name(message, n)]
    capital = [n for n in places if tokens[n].raw[:1].isupper() and not _only_begins(message, n)]
    first = [n for n in places if is_given_name(word := _bare(tokens[n].text)) or not is_real_word(word)]
    led = [n for n in first if message.line.plain[n - 1] in pack()["given_to_name"]]
    begins = [n for n in places if tokens[n].raw[:1].isupper()]
    named = sorted({*capital, *led}) or first or begins
    return as_name(tokens[named[-1]].raw) if named else ""


def _bare(word: str) -> str:
    return word.removesuffix("'s").removesuffix("’s")


def _may_be_name(message: Message, n: int) -> bool:
    token = message.line.tokens[n]
    word = _bare(token.raw)
    return token.kind == "word" and word.isalpha() and is_name(word, message.line)


def _only_begins(message: Message, n: int) -> bool:
    """Whether a word has its capital for beginning a sentence: 'Send me what she has to type'."""
    word = _bare(message.line.tokens[n].text)
    begins = n == 0 or message.line.tokens[n - 1].text in SENTENCE_END
    return begins and is_real_word(word) and not is_given_name(word)


def of_nobody_here(scene: Scene, found: Sequence[Meaning]) -> list[Meaning] | None:
    """'wim needs 95 g protein a day', 'no more nudges to Wim', 'is Farah losing as well?': the name, as a client's.

    It is refused, since nobody here is called so. `found`: what the message means without.
    """
    message = scene.message
    around = message.around
    names = (*around.clients, *around.clients_before, *around.coaches, *around.coaches_before)
    words = {token.text.casefold() for token in message.tokens}
    if named_in(names, words) or (message.of("amount") and scene.foods):
        return None
    asks = message.asks or "?" in message.said
    guided = around.guides or bool(around.clients or around.coaches or around.coaches_before)
    own = any(isinstance(m, OF_THE_WRITER) for m in found)
    if not own and not (guided and (asks or _is_moved(scene, found) or _is_told_of(scene, found))):
        return None
    invites = around.guides and scene.cue(
        "client_invited", "new_client", "code_wanted", "joining_code", "something_to_send"
    )
    if invites or scene.cue("own_aims", "seen_data"):
        return None
    name = _person(scene, asks)
    return [HowIs(client=name)] if name else None


def _is_moved(scene: Scene, found: Sequence[Meaning]) -> bool:
    """'put Wim on 2000', which would be so much of a food called Wim."""
    bare = all(c.amount is not None and c.amount.kind == "bare" for c in scene.amounts)
    return scene.cue("client_moved", "setting_to") and bare and any(isinstance(m, Item) for m in found)


def _is_told_of(scene: Scene, found: Sequence[Meaning]) -> bool:
    """'Gerda should get 1800 kcal', 'remind Olek to log': something for somebody, of which nothing was made out."""
    if not scene.message.around.guides or not all(isinstance(m, NOTHING) for m in found):
        return False
    if scene.message.of("energy", "macro"):
        return True
    first = scene.message.line.plain[scene.message.chunks[0].start]
    return first in pack()["does_to_somebody"] or scene.cue(
        "client_moved", "reminder", "reminded", "target_word", "on_hold", "stops_pinging", "paused_among"
    )


def _person(scene: Scene, asks: bool) -> str:
    """Who it is about: the name of a person where a subject, an owner or somebody addressed stands, '' without one."""
    message, words = scene.message, pack()
    tokens, plain = message.line.tokens, message.line.plain
    for n in [n for c in message.chunks for n in range(c.start, c.end)]:
        if not _may_be_name(message, n):
            continue
        before = plain[n - 1] if n and tokens[n - 1].kind == "word" else ""
        behind = plain[n + 1] if n + 1 < len(plain) else ""
        owner = tokens[n].text.endswith(("'s", "’s"))
        subject = before in words["begins_question"] if asks else behind in words["somebody_does"]
        led = before in words["leads_to_somebody"] or (not asks and before in words["does_to_somebody"])
        first = n == message.chunks[0].start or tokens[n - 1].text in SENTENCE_END
        if not (owner or subject or led) or (owner and scene.foods):
            continue
        given = is_given_name(_bare(tokens[n].text))
        written = tokens[n].raw[:1].isupper() and not _only_begins(message, n)
        word = _bare(tokens[n].text)
        says = is_notion(word) or is_action(word) or is_person_noun(word)
        guides = message.around.guides and not asks and not says
        alone = not behind.isalpha() or behind in words["carried_on"]
        verb = subject and before not in words["question_word"]
        does = asks and verb and not says and (written or behind in words["does_as_people_do"])
        unlike = not is_real_word(word) or does or (owner and written) or (guides and (subject or (written and alone)))
        if asks and not given and not scene.cue("does_as_people_do"):
            continue  # 'is Quorn high in protein?'
        if given or (unlike and (written or first or led or asks)):
            return as_name(_bare(tokens[n].raw))
    return ""


def comes_on_board(scene: Scene) -> bool:
    """'Kim starts with me, what do I send her?': whether somebody is to be guided by the writer."""
    comes_in = scene.cue("comes_on_board") and scene.cue("with_me", "something_to_send")
    return comes_in or scene.cue("client_to_add", "code_to_join")

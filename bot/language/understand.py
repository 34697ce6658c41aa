"""From a text to what it means: topics in order, then weigh-ins; what is left over is unclear, never dropped."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.language.accounting import accounted, with_the_rest_left_out
from bot.language.answers import answered
from bot.language.asking import asking_topic, bare_amount
from bot.language.belongings import is_dish
from bot.language.between_sentences import left_alone, only_when, waste_of, with_food
from bot.language.cautions import beside, heard
from bot.language.chunks import Kind
from bot.language.clearing import cleared, without_address
from bot.language.denied import without_bystanders
from bot.language.fixes import fix_topic, fixed_first
from bot.language.frames import framed
from bot.language.frames.boxes_told import boxes_told
from bot.language.frames.carried import carried_over
from bot.language.frames.consents import consented
from bot.language.frames.dividing import pieces_of_the_new
from bot.language.frames.gross import weighed_gross
from bot.language.frames.heaped import pot_after_all
from bot.language.frames.of_several import taken_twice
from bot.language.frames.of_the_pot import of_the_pot
from bot.language.frames.of_the_practice import more_exactly, of_the_practice
from bot.language.frames.order import FIRST, OF_THE_RECORD
from bot.language.frames.persons_size import weighed_beside
from bot.language.frames.put_by import put_by
from bot.language.frames.raw_pot import all_of_it
from bot.language.frames.relayed import relayed
from bot.language.frames.scales import stood_on_the_scales
from bot.language.frames.serving import seen
from bot.language.frames.told_again import told_again, without_remarks
from bot.language.frames.under_a_dish import under_a_dish
from bot.language.frames.weighed_again import weighed_again
from bot.language.frames.written import written_to_me
from bot.language.gate import made_sure
from bot.language.given_up import without_given_up_plan
from bot.language.intents import templated
from bot.language.intents.coach import GUIDED, of_a_client
from bot.language.intents.openings import opening
from bot.language.intents.pieces import in_pieces
from bot.language.intents.review import small_talk
from bot.language.items import items
from bot.language.made_with import without_dish
from bot.language.meanings import Answer, Bare, Chatter, Meaning, NotMine, Unclear
from bot.language.message import Message, once, read
from bot.language.narrated import is_article
from bot.language.nearest import nearest
from bot.language.overlooked import looked_again
from bot.language.own_part import what_counts
from bot.language.pack import pack
from bot.language.paired import paired
from bot.language.parted import told_beside_order
from bot.language.repairs import put_right
from bot.language.scene import Scene
from bot.language.several_changes import several_changes
from bot.language.sides import is_in_doubt, is_told, of_the_writer
from bot.language.specifying import specified
from bot.language.stance import clauses, not_mine, planned, without_excluded
from bot.language.stand_ins import leaves_open, with_batch_named
from bot.language.stories import without_stories
from bot.language.surroundings import OwnWords, Surroundings
from bot.language.text import singular
from bot.language.told import Item
from bot.language.usual_things import several_usual
from bot.language.words import holds_code

TELLING: tuple[Kind, ...] = ("food", "batch", "amount", "hash", "moment", "state")
"""Kinds of chunk without which a stretch tells nothing."""
MOST_COMMAS = 4
"""Commas of a clause behind which a whole template is looked for."""
BESIDE_FOODS = frozenset({"took", "had", "ate", "from", "the", "of", "i", "my", "and", ",", "for", "with"})
"""Words beside foods and amounts: where there are no others, no topic but weigh-ins can be meant."""
NO_COMMAND = (Answer, Bare, Chatter, Item, NotMine, Unclear)
"""What a name of the person's own means without them where it is no command."""
TOPICS = (fix_topic, asking_topic)
BY_STATE = (
    pieces_of_the_new, weighed_again, pot_after_all, under_a_dish, boxes_told, weighed_gross, told_again, of_the_pot,
)  # fmt: skip
"""Readers that know what is in the kitchen and what a message was taken for; the first that finds something has it."""


def understand(text: str, around: Surroundings) -> list[Meaning]:
    """What a message means, in the order told; at least one meaning, `Unclear` where nothing was made out.

    Any text is taken; the time needed grows linearly with its length.
    """
    return meanings_of(read(text, around))


def meanings_of(message: Message) -> list[Meaning]:
    """The same of a message that was read already."""
    message = paired(without_address(message))
    return with_the_rest_left_out(message, _unchecked(message))


def _unchecked(message: Message) -> list[Meaning]:
    """The meanings before it is asked once more whether they use every number."""
    if not message.chunks:
        return [Unclear(text="")]
    caution = heard(message)
    if caution is None:
        return _with_topics(answered(message, _told) or _told(message), message)
    about, rest = caution
    found = [] if rest is None else beside(answered(rest, _told) or _told(rest))
    return [about, *_with_topics(found, message)]


def _with_topics(meanings: list[Meaning], message: Message) -> list[Meaning]:
    """The meanings, with what came nearest where nothing was made out."""
    if not any(isinstance(meaning, Unclear) for meaning in meanings):
        return meanings
    food = next((c.text.lower() for c in message.of("food")), "")
    about = nearest(message)
    return [replace(m, about=about, food=food) if isinstance(m, Unclear) else m for m in meanings]


def _told(message: Message) -> list[Meaning]:
    """What a message means when no question waits."""
    scene = Scene(message)
    command = _command(message) or consented(scene) or written_to_me(scene)
    if command is not None:
        return command
    used = templated(message) if holds_code(message.text) else None
    if used is not None:
        return used  # its letters and digits may look like foods, people and weights
    parted = told_beside_order(message, _told)
    if parted is not None:
        return parted
    carried = carried_over(message, _told) if message.around.clients else None
    if carried is not None:
        return carried
    said = message
    message = cleared(message)
    before = fixed_first(message) or weighed_beside(message) or put_by(message)
    if before is not None:
        told, rest = before
        return told if not rest.of("amount") else accounted(rest, [*told, *_told(rest)])
    found = _of_it(message, certain=True) or _accounted(message)
    if leaves_open(found):
        found = _of_it(message, certain=False) or found
    if any(isinstance(meaning, GUIDED) and not isinstance(meaning, NO_COMMAND) for meaning in found):
        return more_exactly(message, found) or found
    passed_on = relayed(said)
    if passed_on is not None:
        return passed_on
    between = of_the_practice(message, found)
    if between is not None:
        return between
    return [Unclear(text=message.text)] if of_a_client(message, found) else found


def _of_it(message: Message, certain: bool) -> list[Meaning]:
    """The meanings with the batch named that 'it' stands for; none where it stands for none, or that says no more."""
    named = with_batch_named(message, certain)
    found = [] if named is None else _accounted(named)
    return [] if leaves_open(found) else found


def _accounted(message: Message) -> list[Meaning]:
    """The meanings of a cleared message, with every number and every doubtful word accounted for."""
    meant = looked_again(message, _meanings(message))
    by_state = next((found for read in BY_STATE if (found := read(message, meant))), None)
    if by_state:
        return by_state
    told = without_remarks(message, meant)
    if told is not None:
        return _accounted(told)
    found = made_sure(message, accounted(message, meant))
    return _of_the_writer_alone(message, found) or found


def _of_the_writer_alone(message: Message, meant: Sequence[Meaning]) -> list[Meaning] | None:
    """What the writer had, where others are told of beside and nothing certain was made out; None if it is not said."""
    own = of_the_writer(message) if is_in_doubt(meant) else None
    told = [] if own is None else looked_again(own.message, _meanings(own.message))
    if own is None or not is_told(told):
        return None
    return made_sure(own.message, [*own.of_others, *accounted(own.message, own.shared_out(told))])


def _command(message: Message) -> list[Meaning] | None:
    """A command that is also a name of the person's own: said by itself it is the command."""
    around, name = message.around, message.text.casefold().strip(" .!")
    if name not in {label.casefold() for label in around.labels} | {word.casefold() for word, _ in around.words.foods}:
        return None
    told = _told(read(message.text, replace(around, labels=(), words=OwnWords())))
    return None if any(isinstance(meaning, NO_COMMAND) for meaning in told) else told


def _meanings(message: Message) -> list[Meaning]:
    # A list of foods may be of the pot on the stove, or of the pieces of a batch.
    message = without_dish(without_given_up_plan(without_bystanders(message)))
    scene = seen(message).scene
    whole = (
        taken_twice(scene)
        or _of_the_record(message)
        or several_changes(message, _of_the_record)
        or next((found for frame in FIRST if (found := frame(scene))), None)
    )
    if whole is None:
        message = what_counts(specified(message))
    if whole is None and (message.around.batches or not _only_tells(message)):
        whole = templated(message)
    if whole is None or whole == [NotMine(why="body_change")]:
        whole = stood_on_the_scales(scene) or whole
    whole = whole or framed(message)
    if whole is not None:
        return whole
    if _only_tells(message):
        told = items(message)
        if told and all(item.name is not None or item.batch is not None for item in told):
            return list(in_pieces(told, message))
    if not message.around.batches:
        whole = templated(message)
        if whole is not None:
            return whole
    usual = several_usual(message)
    if usual is not None:
        return usual
    message = put_right(message)
    for_later = _is_for_later(without_stories(message), message)
    if for_later is not None:
        return [for_later]
    recorded = opening(message)
    if recorded is not None and not not_told(message):
        return recorded
    meanings = _sentences(message)
    telling: list[Meaning] = [m for m in meanings if not isinstance(m, Chatter)]
    return telling or meanings or [_leftover(message)]


def _by_template(message: Message) -> list[Meaning] | None:
    """By a template, unless a list of foods can be nothing else: with batches it may be of the pot on the stove."""
    return templated(message) if message.around.batches or not _only_tells(message) else None


def _only_tells(message: Message) -> bool:
    """Whether it consists of foods and amounts alone: the words inside a name ('soft serve') are no topic's."""
    kinds = {c.kind for c in message.chunks if c.kind == "newline" or c.text.lower() not in BESIDE_FOODS}
    if not kinds <= {"amount", "food", "batch", "state", "size", "whole"}:
        return False
    if "batch" in kinds and ("state" in kinds or not message.has("from")):
        return False
    return all(singular(c.text.lower()) not in message.words.parts for c in message.of("food"))


def _is_for_later(told: Message, message: Message) -> NotMine | None:
    """What says that a list is bought or cooked by a recipe, or goes into a dish that the first sentence plans."""
    head = message.chunks[:2]
    if len(head) > 1 and head[1].text == ":" and head[0].text.lower() in pack()["to_be_bought"]:
        return NotMine(why="shopping")  # 'need: 2 kg spuds, wine'
    lines = told.sentences()
    if len(lines) > 1 and not lines[0].of("food", "amount", "batch") and lines[0].has_any(told.words.shopping):
        return NotMine(why="shopping")
    first, *others = message.sentences() or [message]
    amounts = [c for c in first.of("amount") if not is_article(c)]
    dish = any(is_dish(c.target) for c in first.of("food")) and not amounts and not first.of("batch")
    return NotMine(why="plan") if dish and others and planned(first) and all(map(_only_tells, others)) else None


def not_told(message: Message) -> bool:
    """Whether what looks like a record is a question, a plan or a negation."""
    return message.asks or (not_mine(message) is not None and not message.has("called", "named", "label"))


def _sentences(message: Message) -> list[Meaning]:
    """Each sentence by its topic; neighbouring sentences without one are read together as weigh-ins."""
    message = without_stories(message)
    meanings: list[Meaning] = []
    waiting: list[Message] = []
    untouched: set[str] = set()

    def flush() -> None:
        if len(waiting) == 1:
            meanings.extend(_weigh_ins(waiting.pop()))
        elif waiting:
            first, last = waiting[0], waiting[-1]
            start, end = first.offset - message.offset, last.offset - message.offset + len(last.chunks)
            meanings.extend(_weigh_ins(message.part(start, end)))
            waiting.clear()

    told = bool(message.of("amount")) and bool(message.of("food", "batch"))
    before: Message | None = None
    for sentence in message.sentences():
        for clause in clauses(with_food(what_counts(sentence), before)):
            found = None if told and only_when(clause) else _topic(clause)
            if found is None or (waiting and waste_of(waiting, clause, found)):
                waiting.append(clause)
            else:
                if NotMine(why="negation") in found:
                    untouched.update(c.target for c in clause.of("food"))
                flush()
                meanings.extend(found)
        before = sentence
    flush()
    return [m for m in meanings if not left_alone(m, untouched)]


@once
def _of_the_record(message: Message) -> list[Meaning] | None:
    """What it changes of what is on record or of how the person is served; None where it changes nothing."""
    scene = seen(message).scene
    return next((found for read in OF_THE_RECORD if (found := read(scene))), None)


def _topic(clause: Message) -> list[Meaning] | None:
    said = (
        _of_the_record(clause)
        or all_of_it(seen(clause).scene)
        or _by_template(clause)
        or framed(clause)
        or _beside_chatter(clause)
    )
    if said is not None:
        return said
    refused = not_mine(clause)
    for topic in TOPICS:
        if topic is asking_topic and clause.asks is False and refused is not None:
            continue
        found = topic(clause)
        if found is not None:
            return found if refused is None else _unless_not_mine(found, refused)
    return None if refused is None else [refused]


def _beside_chatter(clause: Message) -> list[Meaning] | None:
    """What is said behind a comma means by a template, where nothing is told before it ('no, the rice was 210')."""
    commas = [i for i, c in enumerate(clause.chunks) if c.kind == "sign" and c.text == ","]
    for i in commas[:MOST_COMMAS]:
        joined = clause.chunks[i + 1 : i + 2] and clause.chunks[i + 1].text.lower() in pack()["joining"]
        part, rest = clause.part(i + (2 if joined else 1), len(clause.chunks)), clause.part(0, i)
        if not part.of("food", "batch", "amount", "hash") or rest.of(*TELLING):
            continue
        found = templated(part)
        if found is not None:
            return found
    return None


def _unless_not_mine(found: list[Meaning], refused: NotMine) -> list[Meaning]:
    """A plan or a negation about a batch records nothing ('I will split batch 1 tomorrow')."""
    kind = type(found[0]).__name__
    if refused.why in ("negation", "plan", "shopping") and kind in (
        "CookBatch", "SplitBatch", "PourOff", "SaveTare", "CloseBatch",
    ):  # fmt: skip
        return [refused]
    return found


def _weigh_ins(message: Message) -> list[Meaning]:
    kept = without_excluded(message)
    if kept is not message and not kept.of("amount"):
        return [NotMine(why="negation")]
    told = items(kept)
    if told:
        only = told[0]
        if len(told) == 1 and only.name is None and only.batch is None:
            amount = bare_amount(message)
            if amount is not None:
                return [Bare(amount=amount)]
        return list(in_pieces(told, message))
    return [_leftover(message)]


def _leftover(message: Message) -> Meaning:
    amount = bare_amount(message)
    if amount is not None:
        return Bare(amount=amount)
    said = small_talk(message)
    if said is not None:
        return said
    if message.of("macro", "energy"):
        return NotMine(why="macro")
    known = [c for c in message.chunks if c.kind != "word" or message.words.knows(c.text.lower())]
    if len(known) == len(message.chunks):
        return Answer(text=message.text)
    return Unclear(text=message.text)

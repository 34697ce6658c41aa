"""Frames: read a stretch of a message by what it contains, where no template fits its wording.

A frame looks for its cues, for the parts that it needs and for signs that it does not apply, in any order. It may
ignore unknown words, but must use every number. Frames are tried in the order below; the first that fits wins.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from bot.language.frames.accounts import theirs_alone
from bot.language.frames.again import asked_contents, cooked_again
from bot.language.frames.announcing import put_to_cook
from bot.language.frames.anothers_meal import anothers_meal
from bot.language.frames.as_ever import as_ever
from bot.language.frames.asked_by_role import asked_by_role, supposed_aim
from bot.language.frames.asked_of_days import of_a_past_day, what_is_to_come, what_was_eaten
from bot.language.frames.asked_of_pots import asked_of_a_pot, may_still_be_eaten, supposed
from bot.language.frames.asked_of_record import asked_of_record
from bot.language.frames.asked_of_weeks import figures_of_days
from bot.language.frames.asking import what_is_left, what_stands
from bot.language.frames.bare_counts import done_and_counted, so_many
from bot.language.frames.bodies import on_the_scales, weighed_together
from bot.language.frames.books import (
    asked_about,
    client_wanted,
    first_words,
    introduced,
    inviting,
    remark,
    who_ate,
    who_sees,
)
from bot.language.frames.boxed_by_weight import boxed_by_weight, put_away_whole
from bot.language.frames.boxing import boxed_up, moved
from bot.language.frames.consents import consented
from bot.language.frames.cooking import cooked, done_unweighed, poured_off
from bot.language.frames.cutting import cut_and_ate
from bot.language.frames.dealing import dealt
from bot.language.frames.disowned import disowned
from bot.language.frames.dividing import in_pieces
from bot.language.frames.estimates import estimated
from bot.language.frames.except_for import except_for
from bot.language.frames.filling import added, beside, corrected, put_there, removed
from bot.language.frames.for_others import kept_for_another, offered, put_on_anothers
from bot.language.frames.giving import gone, left_over_by_others
from bot.language.frames.habits import habit_told
from bot.language.frames.headed import headed
from bot.language.frames.health import has_a_condition
from bot.language.frames.heaped import heaped
from bot.language.frames.helping import for_so_many, helping, lunch_at_work, others_say
from bot.language.frames.kept import measure_kept, told_to_keep
from bot.language.frames.leavings import less_leavings
from bot.language.frames.more_in import more_in
from bot.language.frames.no_such_pot import of_no_pot
from bot.language.frames.of_clients import back_again, of_clients, off_for_a_while
from bot.language.frames.of_it import took_of_it
from bot.language.frames.of_several import gone_from_several, taken_twice
from bot.language.frames.on_top import put_on_top
from bot.language.frames.once_more import once_more
from bot.language.frames.opening import opened
from bot.language.frames.over import put_right_when_over
from bot.language.frames.own_boxes import own_box
from bot.language.frames.packets import packet
from bot.language.frames.persons_size import weighed_alone
from bot.language.frames.plans import planned, recipe_told
from bot.language.frames.questions import against_a_number, of_a_food, of_ones_weight, of_the_last, room_for
from bot.language.frames.raw_pot import put_in, weighs_all
from bot.language.frames.remainders import what_remained
from bot.language.frames.remains import all_that_is_left
from bot.language.frames.repeated import as_the_last, repeated, same_amounts
from bot.language.frames.same_again import same_again
from bot.language.frames.scale_total import grown_to
from bot.language.frames.serving import seen
from bot.language.frames.shares_of_it import others_share
from bot.language.frames.taking import left_alone, took_a_share, took_boxes, took_weight
from bot.language.frames.tins import several_tins
from bot.language.frames.told_of_pot import contents_put_right, corrected_too, not_of_this_pot, told_late
from bot.language.frames.undoing import undone
from bot.language.frames.uneaten import either, idiom, left_sum, not_food, taken_back, turned_down, uneaten
from bot.language.frames.vessels import tares
from bot.language.meanings import Meaning
from bot.language.message import Message, once
from bot.language.scene import Scene

Frame = Callable[[Scene], Sequence[Meaning] | None]

FRAMES: tuple[Frame, ...] = (
    first_words,
    introduced,
    has_a_condition,
    client_wanted,
    less_leavings,
    of_clients,
    back_again,
    off_for_a_while,
    inviting,
    consented,
    undone,
    repeated,
    same_again,
    same_amounts,
    as_the_last,
    once_more,
    as_ever,
    except_for,
    disowned,
    weighed_together,
    taken_back,
    told_to_keep,
    habit_told,
    measure_kept,
    packet,
    anothers_meal,
    put_on_anothers,
    kept_for_another,
    offered,
    who_sees,
    who_ate,
    figures_of_days,
    of_the_last,
    supposed_aim,
    against_a_number,
    room_for,
    of_ones_weight,
    asked_contents,
    may_still_be_eaten,
    what_is_left,
    asked_of_a_pot,
    supposed,
    asked_of_record,
    what_was_eaten,
    what_is_to_come,
    asked_by_role,
    cut_and_ate,
    done_and_counted,
    so_many,
    in_pieces,
    what_stands,
    not_of_this_pot,
    contents_put_right,
    corrected_too,
    told_late,
    several_tins,
    cooked,
    done_unweighed,
    poured_off,
    more_in,
    put_there,
    corrected,
    removed,
    put_right_when_over,
    beside,
    added,
    weighs_all,
    put_in,
    boxed_up,
    boxed_by_weight,
    put_away_whole,
    cooked_again,
    put_on_top,
    grown_to,
    tares,
    others_say,
    helping,
    for_so_many,
    lunch_at_work,
    all_that_is_left,
    gone_from_several,
    taken_twice,
    dealt,
    left_over_by_others,
    own_box,
    gone,
    left_alone,
    moved,
    took_boxes,
    took_a_share,
    took_weight,
    what_remained,
    put_to_cook,
    took_of_it,
    opened,
    headed,
    heaped,
    of_no_pot,
    on_the_scales,
    weighed_alone,
    others_share,
    estimated,
    asked_about,
    of_a_food,
    of_a_past_day,
    planned,
    recipe_told,
    remark,
    turned_down,
    either,
    left_sum,
    uneaten,
    not_food,
    idiom,
    theirs_alone,
)


MOST_CHUNKS = 60
"""Most chunks of a stretch that frames read: a longer one is a list or a story, not one statement."""


@once
def framed(message: Message) -> list[Meaning] | None:
    """The meanings that the first fitting frame finds in a message or a part of it; None if no frame fits."""
    if not message.chunks or len(message.chunks) > MOST_CHUNKS:
        return None
    scene = seen(message).scene
    for frame in FRAMES:
        found = frame(scene)
        if found is not None:
            return list(found)
    return None

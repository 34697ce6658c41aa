"""The frames that are tried before templates and topics, in order."""

from __future__ import annotations

from bot.language.frames.accounts import accounts, my_portion
from bot.language.frames.announcing import announced
from bot.language.frames.asked_by_role import stock_wanted
from bot.language.frames.asked_of_pots import left_of_both
from bot.language.frames.bare_counts import boxes_gone, sent_off, so_many
from bot.language.frames.bodies import weighed_together
from bot.language.frames.boxing import frozen
from bot.language.frames.by_record import put_right_by_record
from bot.language.frames.cutting import ate_of_a_whole
from bot.language.frames.dealing import dealt
from bot.language.frames.deleting import deleted
from bot.language.frames.fixing import fixed
from bot.language.frames.giving import off_a_plate
from bot.language.frames.headed import pot_of_its_own
from bot.language.frames.helping_was import anothers_was, own_helping_was
from bot.language.frames.just_boxed import ate_one, box_alone, box_shared, boxed_and_ate
from bot.language.frames.kept import vessel_put_right
from bot.language.frames.leavings import less_leavings, peeled_or_not
from bot.language.frames.moved import moved
from bot.language.frames.never_eaten import never_eaten
from bot.language.frames.of_us import each_of_us
from bot.language.frames.over import proven_when_over
from bot.language.frames.pieces_apart import pieces_apart
from bot.language.frames.portion_again import portion_was, put_back
from bot.language.frames.pot_parts import part_of_the_pot
from bot.language.frames.questions import how_exact
from bot.language.frames.raw_pot import all_of_it, seasoned
from bot.language.frames.repeated import as_the_last
from bot.language.frames.said_closer import said_closer
from bot.language.frames.split_just_now import split_just_now
from bot.language.frames.stated import stated
from bot.language.frames.stirring import stirred_in
from bot.language.frames.told_of_pot import contents_proven, in_one_pot, part_of_its_name
from bot.language.frames.undoing import left_as_is, unsaid, wanted_back
from bot.language.frames.wishes import wished

FIRST = (
    stock_wanted,
    left_of_both,
    announced,
    all_of_it,
    stirred_in,
    ate_of_a_whole,
    peeled_or_not,
    less_leavings,
    as_the_last,
    said_closer,
    off_a_plate,
    each_of_us,
    frozen,
    boxed_and_ate,
    box_shared,
    ate_one,
    box_alone,
    so_many,
    pieces_apart,
    sent_off,
    boxes_gone,
    dealt,
    accounts,
    seasoned,
    pot_of_its_own,
    weighed_together,
    part_of_the_pot,
    how_exact,
    my_portion,
)
"""Frames that read a whole message before templates, because what they read looks like plain weigh-ins."""
OF_THE_RECORD = (
    wished,
    wanted_back,
    unsaid,
    left_as_is,
    vessel_put_right,
    contents_proven,
    in_one_pot,
    anothers_was,
    own_helping_was,
    part_of_its_name,
    proven_when_over,
    deleted,
    never_eaten,
    fixed,
    portion_was,
    put_back,
    put_right_by_record,
    split_just_now,
    stated,
    moved,
)
"""Frames for what changes of what is on record, in order; they read a message or a clause before all others."""

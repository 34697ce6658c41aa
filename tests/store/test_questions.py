"""Questions wait, belong to one person, and carry a reference nobody can guess."""

from bot.kinds import About
from bot.store import questions

from .records import Message


def test_a_question_waits_until_it_is_answered(message: Message) -> None:
    with message() as books:
        asked = questions.ask(books, About.STATE, "Raw or cooked?", ["raw", "cooked"], b"\x00subject")
    with message() as books:
        assert questions.waiting(books) == [asked]
        assert questions.by_ref(books, asked.ref) == (asked, "waiting")
        questions.answered(books, asked.id)
        assert questions.waiting(books) == []
        assert questions.by_ref(books, asked.ref) == (asked, "answered")


def test_the_oldest_question_comes_first(message: Message) -> None:
    with message() as books:
        first, second, third = (questions.ask(books, About.AMOUNT, text, [], b"") for text in ("one", "two", "three"))
        assert questions.waiting(books) == [first, second, third]
        questions.dropped(books, second.id)
        assert questions.waiting(books) == [first, third]
        assert questions.by_ref(books, second.ref) == (second, "dropped")


def test_anothers_question_is_not_found_and_not_touched(message: Message) -> None:
    with message("mira") as books:
        asked = questions.ask(books, About.STATE, "Raw or cooked?", ["raw", "cooked"], b"")
        miras_message = books.inbound_id
    with message("joao") as books:
        assert questions.by_ref(books, asked.ref) is None
        assert questions.waiting(books) == []
        assert questions.drop_from_message(books, miras_message) == []
        questions.answered(books, asked.id)
        questions.dropped(books, asked.id)
    with message("mira") as books:
        assert questions.waiting(books) == [asked]


def test_the_questions_about_one_message_are_dropped_together(message: Message) -> None:
    with message() as books:
        first, second = (questions.ask(books, About.AMOUNT, text, [], b"") for text in ("one", "two"))
        questions.answered(books, first.id)
        edited = books.inbound_id
    with message() as books:
        other = questions.ask(books, About.AMOUNT, "three", [], b"")
        assert questions.drop_from_message(books, edited) == [second]
        assert questions.waiting(books) == [other]
        assert questions.by_ref(books, first.ref) == (first, "answered")


def test_references_hold_128_bits_that_no_two_share(message: Message) -> None:
    with message() as books:
        refs = {questions.ask(books, About.AMOUNT, "", [], b"").ref for _ in range(50)}
    assert len(refs) == 50
    # 16 bytes are 22 characters of base64url without padding (RFC 4648, section 5).
    assert {len(ref) for ref in refs} == {22}

"""An invitation as a link, which lets the invited in; and nothing of it in groups."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta

import sqlalchemy as sa

from bot.channels.telegram import CHANNEL
from bot.conversation.kitchen.rooms import PRIVATE
from bot.store import invites, schema

from .conftest import Run, Start
from .crowd import Human
from .loopback import USERNAME, Loopback
from .test_groups import GROUP, in_group


def invited(coach: Human, called: str) -> str:
    """The code of a new invitation, from its link."""
    found = re.search(rf"https://t\.me/{USERNAME}\?start=([\w-]{{22}})\n", coach.asks(f"invite {called}").text)
    assert found is not None
    return found[1]


def let_in(run: Run, human: Human) -> None:
    now = datetime.now(UTC)
    with run.tarebook.transaction() as conn:
        code = invites.new(conn, invites.ACCESS, now, now + timedelta(days=1))
    human.asks(f"/start {code}")


def test_a_coachs_invitation_is_a_link_and_lets_one_person_in(
    start: Start, server: Loopback, mira: Human, joao: Human
) -> None:
    run = start(access="invite")
    let_in(run, mira)
    code = invited(mira, "João")
    question = joao.asks(f"/start {code}")
    assert question.text.startswith("Hello! I am Tarebook")
    assert "Mira asks to be your coach" in question.text
    eve = Human(server, 1003, "Eve")
    assert "new one" in eve.asks(f"/start {code}").text
    assert run.tarebook.person(CHANNEL, str(eve.id)) is None
    joao.presses(question, "yes, show my sheets")
    assert "Mira is your coach" in joao.hears()[0].text
    assert "João agreed" in mira.hears()[0].text
    joao.asks("321 g banana")
    assert "321 g" in mira.asks("João's day").text
    with run.tarebook.transaction() as conn:
        bodies = conn.execute(sa.select(schema.inbound.c.body)).scalars().all()
    assert not any(code in body for body in bodies)


def test_a_note_reaches_the_client_and_a_reply_to_it_the_coach(
    bot: Run, server: Loopback, mira: Human, joao: Human
) -> None:
    joao.asks("hello")
    joao.asks(f"/start {invited(mira, 'João')}")
    joao.asks("yes")
    mira.hears()
    mira.asks("tell João: weigh the oats dry")
    (note,) = joao.hears()
    assert "weigh the oats dry" in note.text
    assert "Passed on" in joao.asks("will do, thanks", reply_to=note).text
    assert "João says: will do, thanks" in mira.hears()[0].text


def test_nothing_about_coaches_and_clients_is_said_in_a_group(
    bot: Run, server: Loopback, mira: Human, joao: Human
) -> None:
    joao.asks("hello")
    joao.asks(f"/start {invited(mira, 'João')}")
    joao.asks("yes")
    mira.hears()
    texts = (
        "roster", "how is João?", "João's week", "invite Eve", "tell João: hello", "tell Eve: hello",
        "target for João 2100", "target for João 0 kcal", "who sees my data?", "stop coaching João", "digest",
        "end coaching with Eve", "share label granola with João", "reply: hello",
    )  # fmt: skip
    for number, text in enumerate(texts, start=1):
        mira.says(f"@{USERNAME} {text}", chat_id=GROUP)
        assert in_group(server, number)[-1].text == PRIVATE, text
    server.until(lambda: server.idle)
    assert len(server.sent[joao.id]) == joao.heard
    assert "João" in mira.asks("roster").text

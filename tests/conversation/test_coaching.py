"""Coaches and clients: who lets whom see what, what a coach passes on, and what nobody is told."""

from __future__ import annotations

import re

import pytest

from .chat import Chat, Door, Said

NO_GOOD = "used, expired or mistyped"


def code_of(said: Said) -> str:
    found = re.search(r"/start ([\w-]{22})", said.text)
    assert found is not None, said
    return found[1]


def person(door: Door, name: str, **settings: str) -> Chat:
    return Chat(door, name, **({"region": "metric"} | settings))


def guides(coach: Chat, client: Chat, called: str) -> None:
    """The client has said yes to the coach."""
    code = code_of(coach.say(f"invite {called}"))
    assert client.say(f"/start {code}").one("question")["about"] == "coaching"
    client.say("yes").one("coaching_agreed")


@pytest.fixture
def ines(door: Door) -> Chat:
    return person(door, "Ines")


@pytest.fixture
def ana(door: Door, ines: Chat) -> Chat:
    client = person(door, "Ana")
    guides(ines, client, "Ana")
    return client


def told(said: Said, who: str) -> str:
    """What somebody else was told because of it."""
    return "\n".join(text for to, text in said.others if to == who)


def test_a_client_is_shown_who_asks_and_what_will_be_seen(door: Door, ines: Chat) -> None:
    code = code_of(ines.say("invite Ana"))
    ana = person(door, "Ana")
    asked = ana.say(f"/start {code}")
    assert asked.choices == ("yes, show my sheets", "no")
    for word in ("Ines", "weigh-ins", "body weights", "target", "end coaching with Ines"):
        assert word in asked.text
    assert "roster" in told(ana.say("yes"), "Ines")


def test_nothing_is_seen_before_the_yes_nor_after_a_no(door: Door, ines: Chat) -> None:
    ana = person(door, "Ana")
    ana.given("321 g banana")
    code = code_of(ines.say("invite Ana"))
    ana.say(f"code: {code}")
    assert ines.say("roster").one("roster")["clients"] == []
    ines.say("Ana's day").refused("no clients")
    assert "declined" in told(ana.say("no"), "Ines")
    ines.say("how is Ana?")
    assert all("321" not in said.text for said in ines.heard)
    assert NO_GOOD in ana.say(f"code: {code}").text


@pytest.mark.parametrize("how", ("guessed", "used", "taken", "expired"))
def test_codes_that_are_no_good_are_answered_alike(door: Door, ines: Chat, how: str) -> None:
    ana, eve = person(door, "Ana"), person(door, "Eve")
    eve.say("/start")
    code = code_of(ines.say("invite Ana"))
    at = "2026-03-02T14:00:00+00:00"
    if how == "guessed":
        code = code[:-1] + ("A" if code[-1] != "A" else "B")
    elif how == "expired":
        at = "2026-03-09T12:30:00+00:00"
    else:
        ana.say(f"/start {code}")
        if how == "used":
            ana.say("yes")
    said = eve.say(f"/start {code}", at=at)
    assert said.text == "That code is used, expired or mistyped, so nothing was changed. Please ask for a new one."
    assert said.one("refused")["why"] == "bad_code"
    assert said.others == ()


def test_a_consent_that_comes_too_late_begins_nothing(door: Door, ines: Chat) -> None:
    ana = person(door, "Ana")
    ana.say(f"/start {code_of(ines.say('invite Ana'))}").one("question")
    ana.say("yes", at="2026-03-10T12:00:00+00:00").refused("does not hold any more")
    assert ines.say("roster", at="2026-03-10T12:00:00+00:00").one("roster")["clients"] == []


def test_nobody_coaches_themself(ines: Chat) -> None:
    said = ines.say(f"/start {code_of(ines.say('/coach'))}")
    assert "invitation of your own" in said.text
    assert ines.say("roster").one("roster")["clients"] == []


def test_the_command_leads_everybody_to_what_is_theirs(door: Door, ines: Chat, ana: Chat) -> None:
    assert "Ana (" in ines.say("/coach").text
    assert "Ines has been your coach" in ana.say("/coach").text
    assert code_of(person(door, "Omar").say("/coach"))


@pytest.mark.parametrize("side", ("coach", "client"))
def test_either_side_ends_it_at_once_and_both_are_told(ines: Chat, ana: Chat, side: str) -> None:
    ana.given("321 g banana")
    assert "321 g" in ines.say("Ana's day").text
    if side == "coach":
        assert "sees nothing of yours any more" in told(ines.say("stop coaching Ana"), "Ana")
    else:
        assert "you see nothing of theirs any more" in told(ana.say("end coaching with Ines"), "Ines")
    for text in ("Ana's day", "Ana's week", "how is Ana?", "target for Ana 2100 kcal", "tell Ana: hello"):
        said = ines.say(text)
        assert said.others == ()
        assert "321" not in said.text
        assert not said.records
    assert ines.say("roster").one("roster")["clients"] == []
    assert "You have no coach" in ana.say("who sees my data?").text


def test_several_coaches_and_several_clients_and_coaches_log_too(door: Door, ines: Chat, ana: Chat) -> None:
    omar, ben = person(door, "Omar"), person(door, "Ben")
    guides(omar, ana, "A. from the gym")
    guides(ines, ben, "Ben")
    guides(ana, ben, "Ben")
    assert ines.say("200 g banana").recorded()["who"] == "Ines"
    assert [row["client"] for row in ines.say("roster").one("roster")["clients"]] == ["Ana", "Ben"]
    assert [row["client"] for row in omar.say("roster").one("roster")["clients"]] == ["A. from the gym"]
    who = ana.say("who is my coach?").text
    assert "Ines has been your coach" in who
    assert "Omar has been your coach" in who
    assert "Ben" not in who
    asked = ana.say("reply: I am ill this week")
    assert asked.choices == ("Ines", "Omar")
    assert "A. from the gym says: I am ill this week" in told(ana.say("Omar"), "Omar")


def test_who_needs_the_coach_most_stands_first_with_the_reason(door: Door, ines: Chat, ana: Chat) -> None:
    ben, cem = person(door, "Ben"), person(door, "Cem")
    guides(ines, ben, "Ben")
    guides(ines, cem, "Cem")
    ana.given("target 2000 kcal protein 100")
    for day in (4, 5):
        ana.say("800 g raw salmon and 70 g dry rice", at=f"2026-03-0{day}T12:00:00+00:00")
        cem.say("2000 g cooked pasta", at=f"2026-03-0{day}T12:00:00+00:00")
    cem.say("100 g zorblax", at="2026-03-06T09:00:00+00:00").asked()
    ben.say("300 g cooked rice", at="2026-03-03T12:00:00+00:00")
    said = ines.say("roster", at="2026-03-06T10:00:00+00:00")
    rows = said.one("roster")["clients"]
    assert [row["client"] for row in rows] == ["Ben", "Cem", "Ana"]
    assert [row["why"] for row in rows] == ["silent for 3 days", "1 question waits", "nothing pressing"]
    assert (rows[0]["silent_days"], rows[1]["waiting"], rows[2]["days"]) == (3, 1, 2)
    assert rows[2]["target_kcal"] == 2000
    assert rows[2]["weighed_share"] == 1
    assert said.text.splitlines()[0].startswith("Ben (silent for 3 days): not logged today")
    logged = ines.say("who logged today?").text
    assert "Logged today: Cem" in logged
    assert "Not yet: Ana and Ben" in logged


def test_the_means_are_over_the_days_logged(ines: Chat, ana: Chat) -> None:
    ana.say("200 g raw banana", at="2026-03-03T12:00:00+00:00")
    ana.say("400 g raw banana", at="2026-03-05T12:00:00+00:00")
    (row,) = ines.say("how is Ana?", at="2026-03-06T10:00:00+00:00").one("roster")["clients"]
    # SR28 09040, banana raw: 89 kcal and 1.09 g of protein in 100 g
    assert row["days"] == 2
    assert row["kcal"] == pytest.approx(267, abs=0.01)
    assert row["protein_g"] == pytest.approx(3.27, abs=0.01)


def test_a_clients_week_comes_with_its_picture_and_leaves_nothing_in_her_books(ines: Chat, ana: Chat) -> None:
    ana.given("300 g cooked pasta", "I weigh 82.4 kg")
    said = ines.say("Ana's week")
    assert said.one("client_sheet")["client"] == "Ana"
    assert "82.4 kg" in said.text
    assert ines.say("week of Ana").one("client_sheet")["span"] == "week"
    assert ines.say("today").one("sheet")["kcal"] == 0
    assert ana.say("undo").one("fact_undone")["what"] == "body_weight"


def test_a_target_is_set_in_the_clients_turn_and_undo_restores(ines: Chat, ana: Chat) -> None:
    ana.given("target 1900")
    sent = ines.say("target for Ana 2100 kcal protein 160")
    assert sent.one("target_set") == {
        "type": "target_set", "kcal": 2100, "protein_g": 160, "fat_g": None, "carbohydrate_g": None,
    }  # fmt: skip
    assert told(sent, "Ana").startswith(
        "Ines, your coach, has set your target.\nTarget from today on: 2,100 kcal, protein 160 g"
    )
    assert "No target" in ines.say("my target").text
    undone = ana.say("undo")
    assert "objected" in told(undone, "Ines")
    assert "1,900 kcal" in ana.say("my target").text


def test_a_client_can_object_later_too(ines: Chat, ana: Chat) -> None:
    ana.given("target 1900")
    ines.say("set Ana's target to 2100")
    ana.given("200 g banana")
    said = ana.say("object")
    assert "Ana objected" in told(said, "Ines")
    assert "1,900 kcal" in said.text
    ana.say("object").refused("No coach has set")
    assert ana.weigh_ins_today() == 1


def test_a_target_from_a_later_day_on_begins_then_and_can_be_objected_to(ines: Chat, ana: Chat) -> None:
    ana.given("target 1900")
    sent = ines.say("target for Ana from Wednesday on 2100 kcal")
    assert sent.one("target_set")["from"] == "2026-03-04"
    assert "1,900 kcal" in ana.say("my target").text
    assert "Ana objected" in told(ana.say("object"), "Ines")
    assert "2,100" not in ana.say("my target").text


def test_a_very_low_target_needs_the_coachs_second_yes(ines: Chat, ana: Chat) -> None:
    asked = ines.say("target for Ana 900")
    assert "doctor or dietitian" in asked.text
    assert asked.others == ()
    ines.say("no")
    assert "No target" in ana.say("my target").text
    ines.say("target for Ana 900")
    set_ = ines.say("yes")
    assert set_.one("target_set")["kcal"] == 900
    assert "doctor or dietitian" in told(set_, "Ana")


def test_a_note_is_passed_on_and_its_answer_comes_back(ines: Chat, ana: Chat) -> None:
    assert "Ines, your coach: weigh the oats dry" in told(ines.say("tell Ana to weigh the oats dry"), "Ana")
    assert "Ana says: 40 g, dry" in told(ana.say("reply: 40 g, dry"), "Ines")
    assert "Ana says: on holiday" in told(ana.say("tell my coach: on holiday"), "Ines")
    assert ana.weigh_ins_today() == 0


def test_a_label_and_a_measure_are_shared(door: Door, ines: Chat, ana: Chat) -> None:
    ben = person(door, "Ben")
    guides(ines, ben, "Ben")
    ines.given("label granola: serving 45 g, 190 kcal, fat 6, carbs 25, protein 9", "my scoop of whey is 31 g")
    ben.given("label granola: serving 40 g, 176 kcal, fat 7, carbs 22, protein 5")
    shared = ines.say("share label granola with everyone")
    assert len(shared.all("label_saved")) == 1
    assert "Which one shall count?" in told(shared, "Ben")
    ben.say("keep mine")
    assert ana.say("45 g granola").recorded()["kcal"] == pytest.approx(190)
    assert ben.say("40 g granola").recorded()["kcal"] == pytest.approx(176)
    ines.say("share my granola label with Ben")
    ben.press(1)
    assert ben.say("45 g granola").recorded()["kcal"] == pytest.approx(190)
    ines.say("share my scoop of whey measure with Ana").one("measure_saved")
    assert ana.say("2 scoops of whey").one("weigh_in")["as_weighed_g"] == 62
    ines.say("share label muesli with Ana").refused("no label called muesli", "granola")


@pytest.mark.parametrize("answer", ("182 g", "182", "it was 182 g", "apple 182 g"))
def test_something_is_weighed_again_and_the_coach_hears_of_it(ines: Chat, ana: Chat, answer: str) -> None:
    ana.given("apple 190 g", "200 g banana")
    asked = ines.say("ask Ana to re-weigh the apple")
    assert "#1, 190 g, today" in told(asked, "Ana")
    assert ana.day()["waiting"] == 1
    said = ana.say(answer)
    assert said.changed()["as_weighed_g"] == 182
    assert told(said, "Ines") == "Ana has weighed the apple again: 182 g (was 190 g)."
    assert ana.day()["waiting"] == 0
    assert ana.weigh_ins_today() == 2


def test_other_answers_to_weigh_it_again(ines: Chat, ana: Chat) -> None:
    ana.given("apple 190 g")
    ines.say("ask Ana to weigh #1 again")
    assert "no zorblax on record" in ines.say("ask Ana to re-weigh the zorblax").text
    assert "no weigh-in #7" in ines.say("ask Ana to weigh #7 again").text
    assert "too much" in ana.say("9000 g").text
    assert "can't weigh it any more" in told(ana.say("can't any more"), "Ines")
    ines.say("ask Ana to re-weigh #1")
    assert "correct" in told(ana.press(1), "Ines")
    ines.say("ask Ana to re-weigh the banana")
    assert ana.say("120 g").recorded()["food"] == "banana"


def test_what_a_coach_asked_is_closed_with_the_coaching(ines: Chat, ana: Chat) -> None:
    ana.given("apple 190 g")
    ines.say("ask Ana to re-weigh the apple")
    ines.say("stop coaching Ana")
    assert ana.day()["waiting"] == 0
    said = ana.say("182 g")
    assert said.others == ()
    assert not said.records


def test_a_coach_sees_no_question_that_is_between_the_client_and_others(door: Door, ines: Chat, ana: Chat) -> None:
    omar, ben = person(door, "Omar"), person(door, "Ben")
    ana.say(f"/start {code_of(omar.say('invite Ana'))}").one("question")
    guides(ana, ben, "Ben")
    ana.say("target for Ben 900").one("question")
    (row,) = ines.say("how is Ana?").one("roster")["clients"]
    assert row["waiting"] == 0
    for text in ("Ana's day", "Ana's week"):
        said = ines.say(text)
        assert said.one("client_sheet")["waiting"] == 0
        assert "Omar" not in said.text
        assert "Ben" not in said.text


@pytest.mark.parametrize(
    "text",
    (
        "how is Eve?", "Eve's week", "what did Eve eat today?", "target for Eve 2100", "tell Eve: hello",
        "ask Eve to weigh #1 again", "share my granola label with Eve",
    ),
)  # fmt: skip
def test_whoever_is_no_client_might_as_well_not_exist(door: Door, ines: Chat, ana: Chat, text: str) -> None:
    never = ines.say(text.replace("Eve", "Ida")).text
    eve = person(door, "Eve")
    eve.given("321 g banana", "target 1800")
    said = ines.say(text)
    assert said.others == ()
    assert said.text == never.replace("Ida", "Eve") == "None of your clients is called Eve. Your clients: Ana."


def test_two_clients_of_one_name_are_asked_about(door: Door, ines: Chat) -> None:
    one, other = person(door, "Ana Berg"), person(door, "Ana Cole")
    guides(ines, one, "Ana Berg")
    guides(ines, other, "Ana Cole")
    asked = ines.say("target for Ana 2100")
    assert asked.choices == ("Ana Berg", "Ana Cole")
    assert "2,100" in told(ines.say("2"), "Ana Cole")
    ines.say("invite ana berg").refused("have a client called")


@pytest.mark.parametrize(
    "text", ("tell Ana: weigh the oats dry", "target for Ana 2100", "share my granola label with Ana", "Ana's week")
)
def test_without_clients_a_coachs_words_are_answered_sensibly(chat: Chat, text: str) -> None:
    assert "invite" in chat.say(text).refused("no clients")
    assert "No target" in chat.say("my target").text


def test_an_edit_of_a_clients_message_is_seen_and_undo_as_well(ines: Chat, ana: Chat) -> None:
    ana.say("200 g banana", ref=1)
    ana.edit(1, "250 g banana")
    assert "250 g" in ines.say("Ana's day").text
    ana.say("undo")
    assert "200 g" in ines.say("Ana's day").text
